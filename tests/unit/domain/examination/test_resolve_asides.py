"""What a sentence says beside what it asks for: details, suspicions, reasons, manner told later."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_resolver


def understood(text):
    return [(one.step, dict(one.technique)) for one in load_resolver().resolve(text).requests]


def steps(text):
    return [step for step, _ in understood(text)]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("tell me about the fits - tongue biting, incontinence, after-effects", "ask-seizures"),
        ("chest x-ray ?pneumonia", "chest-film"),
        ("ultrasound of the abdomen ?gallstones", "ultrasound-abdomen"),
        ("respiratory examination: inspection, palpation, percussion", "respiratory-examination"),
        ("give morphine, he's in pain", "give-analgesia"),
        ("ECG, she's breathless", "ecg"),
        ("give aspirin for the NSTEMI", "give-aspirin"),
        ("skin biopsy for histology and immunofluorescence", "skin-biopsy"),
    ],
)
def test_what_only_explains_a_request_is_not_asked_for(text, wanted):
    assert steps(text) == [wanted]


def test_an_aside_stands_where_nothing_else_was_understood():
    assert steps("next: listen to the heart") == ["auscultate-heart"]
    assert steps("?clubbing") == ["nail-clubbing"]


def test_a_part_named_beside_its_whole_is_done_with_the_whole():
    assert steps("full respiratory examination and percuss the chest") == [
        "respiratory-examination"
    ]


def test_two_whole_names_joined_are_two_requests_however_short():
    assert steps("pulse and BP") == ["radial-pulse-rate", "blood-pressure"]
    assert steps("temperature and pulse") == ["temperature", "radial-pulse-rate"]


def test_manner_told_in_a_part_of_its_own_belongs_to_the_request_before():
    assert understood("rectal examination, left lateral with the knees up") == [
        ("rectal-examination", {"posture": "left-lateral"})
    ]


def test_a_side_in_a_remark_about_the_patient_is_no_side_of_the_request():
    assert understood("test power in the arms, he's weak on the left") == [("power-arms", {})]


def test_a_push_that_is_to_be_withstood_is_effort_and_no_denial():
    [(step, technique)] = understood("bend your left elbow, don't let me straighten it")
    assert step == "power-elbow-flexion"
    assert technique == {"side": "left", "effort": "resisted"}


def test_a_denial_ends_where_the_speaker_begins_anew():
    assert steps("rather than hurry I would listen to the heart") == ["auscultate-heart"]


def test_a_misspelt_procedure_is_done_and_a_misspelt_drug_is_asked_back():
    assert steps("cathterise him") == ["urinary-catheter"]
    assert steps("give furosemied") == []


def test_words_to_the_patient_are_a_question_and_words_about_the_patient_are_not():
    assert steps("what's his temperature?") == ["temperature"]
    assert steps("have you had a temperature?") == ["ask-fever"]


def test_a_named_part_is_taken_before_the_whole_that_holds_it():
    assert understood("supinator jerk, both arms") == [("supinator-jerk", {"side": "both"})]


def test_sitting_the_patient_up_for_an_examination_is_how_it_is_done_and_no_treatment():
    assert understood("sit him up and listen to the lung bases") == [
        ("lung-bases-listen", {"posture": "sitting", "site": "lung-bases"})
    ]
    assert steps("sit him up and give oxygen") == ["sit-up", "give-oxygen"]


def test_sitting_the_patient_up_is_never_lost_where_nothing_is_done_in_that_posture():
    assert steps("sit him up and check his sats") == ["sit-up", "oxygen-saturation"]
    assert steps("check his sats and sit him up") == ["oxygen-saturation", "sit-up"]


def test_a_list_of_drugs_is_ordered_whole():
    assert steps("high-flow oxygen, nebulised salbutamol and some hydrocortisone") == [
        "give-oxygen",
        "give-bronchodilator",
        "give-steroid",
    ]
    assert steps("aspirin and morphine") == ["give-aspirin", "give-analgesia"]


def test_a_question_about_a_treatment_gives_none():
    for text in ("is she on oxygen?", "are they on insulin?"):
        assert not any(step.startswith("give-") for step in steps(text))


def test_right_as_in_right_up_is_no_side():
    assert understood("lift the left leg right up with the knee straight") == [
        ("straight-leg-raise", {"side": "left"})
    ]


def test_what_names_a_whole_and_one_of_its_parts_is_the_whole():
    assert steps("inspect chest") == ["inspect-chest"]


def test_capitals_tell_a_scan_and_a_stool_test_from_a_title_and_a_seizure():
    assert steps("MR head with diffusion") == ["mri-brain"]
    assert steps("FIT") == ["faecal-immunochemical"]
    assert steps("any fits?") == ["ask-seizures"]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Weber and Rinne", ["weber-test", "rinne-test"]),
        ("Romberg and gait", ["romberg", "gait-walk"]),
        ("shifting dullness and fluid thrill", ["shifting-dullness", "fluid-thrill"]),
    ],
)
def test_parts_named_one_by_one_are_done_and_the_whole_is_not_asked_about(text, wanted):
    assert steps(text) == wanted


def test_an_instrument_told_last_holds_for_both_tests():
    assert understood("Rinne and Weber with the 512 fork") == [
        ("rinne-test", {"instrument": "fork-512"}),
        ("weber-test", {"instrument": "fork-512"}),
    ]
