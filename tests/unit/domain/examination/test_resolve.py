"""A student says what they would do; the resolver understands as a colleague would."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_catalogue, load_resolver
from casebank.domain.encounter.model import Request
from casebank.domain.examination.resolution import Status
from casebank.domain.examination.wording import as_json

MURMUR = {
    "site": "apex",
    "instrument": "bell",
    "posture": "left-lateral",
    "breathing": "held-expiration",
}
HEART = Request("auscultate-heart", MURMUR)
LEFT_PULSE = Request("radial-pulse-rate", {"side": "left"})


def understood(text, previous=None):
    found = load_resolver().resolve(text, previous)
    assert found.status is Status.UNDERSTOOD, (text, found)
    return [(one.step, dict(one.technique)) for one in found.requests]


def resolved(text, previous=None):
    return load_resolver().resolve(text, previous)


@pytest.mark.parametrize(
    "text",
    [
        "listen with the bell at the apex, rolled onto the left side, breath held out",
        "bell at the apex, rolled to the left, breath held out",
        "breath held out, rolled to the left, at the apex with the bell",
        "With the patient in the left lateral position, in held expiration, bell, mitral area",
    ],
)
def test_technique_is_understood_in_any_order(text):
    assert understood(text) == [("auscultate-heart", MURMUR)]


@pytest.mark.parametrize(
    ("text", "technique"),
    [
        ("left radial pulse rate", {"side": "left"}),
        ("L radial pulse rate", {"side": "left"}),
        ("count the radial pulse on the right", {"side": "right"}),
        ("Right, now count the radial pulse", {}),
        ("all right, count the radial pulse", {}),
        ("right so count the left radial pulse", {"side": "left"}),
        ("with my right hand count the left radial pulse", {"side": "left"}),
        ("from the right side of the bed count the radial pulse", {}),
    ],
)
def test_a_side_is_taken_only_where_it_is_meant(text, technique):
    assert understood(text) == [("radial-pulse-rate", technique)]


@pytest.mark.parametrize(
    ("text", "step", "technique"),
    [
        (
            "listen at the left sternal edge",
            "auscultate-heart",
            {"site": "left-sternal-edge"},
        ),
        ("turn the head to the left and look at the JVP", "jvp-height", {}),
        ("left JVP", "jvp-height", {"side": "left"}),
        ("percuss the chest on the left", "chest-percussion", {"side": "left"}),
        ("dorsalis pedis bilaterally", "dorsalis-pedis-pulse", {"side": "both"}),
    ],
)
def test_left_and_right_belong_to_places_and_postures_too(text, step, technique):
    assert understood(text) == [(step, technique)]


def test_both_sides_of_a_step_done_one_side_at_a_time_are_two_requests():
    assert understood("feel left and right carotid") == [
        ("carotid-pulse", {"side": "left"}),
        ("carotid-pulse", {"side": "right"}),
    ]


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("JVP", "jvp-height"),
        ("BP", "blood-pressure"),
        ("RR", "respiratory-rate"),
        ("sats", "oxygen-saturation"),
        ("HR", "radial-pulse-rate"),
        ("CRT", "capillary-refill"),
        ("EKG", "ecg"),
        ("CXR", "chest-film"),
        ("CBC", "full-blood-count"),
        ("U&Es", "renal-function"),
        ("PMH", "ask-past-history"),
        ("DH", "ask-drugs"),
        ("ankle edema", "ankle-oedema"),
        ("ankle oedema", "ankle-oedema"),
        ("anemia in the conjunctivae", "conjunctival-pallor"),
        ("US abdomen", "ultrasound-abdomen"),
    ],
)
def test_abbreviations_and_both_spellings_are_known(text, step):
    assert [found for found, _ in understood(text)] == [step]


@pytest.mark.parametrize(
    "text",
    [
        "ausculate the heart",
        "listen to teh heart",
        "auscultate the haert",
        "hear tsounds and listen to the heart",
    ],
)
def test_a_misspelt_request_is_still_understood(text):
    assert "auscultate-heart" in [step for step, _ in understood(text)]


def test_what_is_denied_is_not_done():
    assert understood("measure bp in the left arm without lifting the arm") == [
        ("blood-pressure", {"side": "left"})
    ]
    assert understood("no need for a chest x-ray, just listen to the heart") == [
        ("auscultate-heart", {})
    ]
    assert resolved("don't do an ECG").status is Status.NOT_UNDERSTOOD


def test_not_pressing_hard_is_a_technique():
    assert understood("check for ankle oedema but don't press hard") == [
        ("ankle-oedema", {"effort": "light"})
    ]


@pytest.mark.parametrize(
    "text",
    [
        "can I please have a listen to the heart",
        "I'd like to listen to the heart",
        "why don't we listen to the heart",
        "if you don't mind I will listen to the heart now",
    ],
)
def test_politeness_changes_nothing(text):
    assert understood(text) == [("auscultate-heart", {})]


@pytest.mark.parametrize(
    ("text", "changed"),
    [
        ("now sitting forward", {"posture": "sitting-forward"}),
        ("repeat with the diaphragm", {"instrument": "diaphragm"}),
        ("with the diaphragm", {"instrument": "diaphragm"}),
        ("now breathe in and hold", {"breathing": "held-inspiration"}),
        ("again", {}),
    ],
)
def test_a_follow_up_inherits_from_the_last_request(text, changed):
    assert understood(text, HEART) == [("auscultate-heart", {**MURMUR, **changed})]


def test_the_other_side_is_the_other_side():
    assert understood("the other side", LEFT_PULSE) == [("radial-pulse-rate", {"side": "right"})]
    assert understood("in the other arm", Request("blood-pressure", {"side": "right"})) == [
        ("blood-pressure", {"side": "left"})
    ]


def test_the_other_side_of_both_sides_is_asked_back():
    found = resolved("the other side", Request("ankle-oedema", {}))
    assert found.status is Status.ASK_BACK
    assert {one.technique["side"] for one in found.alternatives} == {"left", "right"}


def test_a_new_step_inherits_nothing():
    assert understood("now feel for thrills", HEART) == [("thrills", {})]
    assert understood("now listen at the aortic area", HEART) == [
        ("auscultate-heart", {"site": "aortic-area"})
    ]


def test_a_follow_up_to_nothing_is_not_understood():
    assert resolved("again").status is Status.NOT_UNDERSTOOD


def test_several_requests_in_one_sentence_are_told_apart():
    steps = understood("feel the radial pulse and check the blood pressure in both arms")
    assert [step for step, _ in steps] == ["radial-pulse-rate", "blood-pressure-both-arms"]
    assert understood("listen at the apex with the bell then the diaphragm") == [
        ("auscultate-heart", {"site": "apex", "instrument": "bell"}),
        ("auscultate-heart", {"site": "apex", "instrument": "diaphragm"}),
    ]
    assert [t["site"] for _, t in understood("listen at apex, aortic and pulmonary areas")] == [
        "apex",
        "aortic-area",
        "pulmonary-area",
    ]


def test_a_composite_request_gives_the_composite():
    assert understood("take a full set of obs") == [("observations", {})]
    assert load_catalogue().steps["observations"].parts


@pytest.mark.parametrize(
    "text",
    [
        "give furosimide",
        "give 80 mg furosimide",
        "give furosemide 80 mg to the wibblefrotz",
        "give 5 mg",
        "give bisoprolo 2.5 mg",
    ],
)
def test_a_near_miss_of_a_drug_is_never_given(text):
    assert resolved(text).requests == ()


def test_a_near_miss_of_a_drug_is_asked_back():
    for text in ("give furosimide", "give 80 mg furosimide", "give bisoprolo 2.5 mg"):
        found = resolved(text)
        assert found.status is Status.ASK_BACK
        assert found.alternatives


@pytest.mark.parametrize(
    ("text", "step", "dose"),
    [
        ("give 5 mg morphine", "give-analgesia", ("5", "mg")),
        ("give furosemide 80 mg", "give-diuretic", ("80", "mg")),
        ("give bisoprolol 2.5 mg", "give-rate-control", ("2.5", "mg")),
    ],
)
def test_a_known_drug_is_read_and_the_words_of_its_dose_are_reported_unused(text, step, dose):
    found = resolved(text)
    assert [(one.step, dict(one.technique)) for one in found.requests] == [(step, {})]
    assert found.not_understood == dose


def test_a_drug_that_is_only_mentioned_is_not_given():
    found = resolved("look around the bed for oxygen, GTN spray, inhalers")
    treats = {slug for slug, step in load_catalogue().steps.items() if step.method.value == "treat"}
    assert not treats & {one.step for one in found.requests}


def test_close_readings_are_asked_back_and_told():
    found = resolved("palpate the right upper quadrant")
    assert found.status is Status.ASK_BACK
    offered = {one.step: one.technique for one in found.alternatives}
    for step in ("light-palpation-abdomen", "deep-palpation-abdomen"):
        assert offered[step] == {"site": "right-hypochondrium"}


def test_words_not_used_are_told():
    found = resolved("listen to the heart with a wibblefrotz")
    assert found.requests[0].step == "auscultate-heart"
    assert found.not_understood == ("wibblefrotz",)


def test_picked_slots_complete_what_was_said_and_never_contradict_it():
    found = load_resolver().resolve(
        "listen with the bell", HEART, {"instrument": "diaphragm", "site": "aortic-area"}
    )
    assert found.requests[0].technique["instrument"] == "bell"


def test_a_long_text_is_read_up_to_its_limit_and_the_rest_told():
    found = resolved("listen to the heart " + "wibblefrotz " * 60)
    assert "wibblefrotz" in found.not_understood


def test_the_command_contract_holds():
    data = as_json(resolved("bell at the apex"), load_catalogue())
    assert list(data)[:3] == ["step", "technique", "full_technique"]
    assert data["technique"] == {"site": "apex", "instrument": "bell"}
    assert data["full_technique"]["breathing"] == "quiet"
    nothing = as_json(resolved("flibbertigibbet"), load_catalogue())
    assert nothing["step"] is None
    assert nothing["not_understood"] == ["flibbertigibbet"]
    two = as_json(resolved("JVP and BP"), load_catalogue())
    assert [one["step"] for one in two["further"]] == ["blood-pressure"]


def test_suggestions_complete_what_is_typed():
    suggested = load_resolver().suggest("jug ven", 5)
    assert "jvp-height" in [one.step for one in suggested]
    assert len(load_resolver().suggest("a", 5)) == 5
    assert load_resolver().suggest("", 5) == ()
    assert load_resolver().suggest("zzzz") == ()
