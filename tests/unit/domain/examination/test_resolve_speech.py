"""Lists, shared objects, doses, idle speech and nonsense: what the request line makes of them."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_catalogue, load_resolver
from casebank.domain.encounter.model import Request
from casebank.domain.examination.cleaning import clean
from casebank.domain.examination.doses import dose_places, is_of_dose
from casebank.domain.examination.grouping import LIST_COST, LOOSE_COST, SPLIT_COST, costs
from casebank.domain.examination.idle import IDLE, SPOKEN
from casebank.domain.examination.nosides import NO_SIDES
from casebank.domain.examination.phrases import content_keys
from casebank.domain.examination.reasons import without_reasons
from casebank.domain.examination.resolution import Status
from casebank.domain.examination.sharing import with_shared_objects
from casebank.domain.examination.sidespeech import SIDES
from casebank.domain.examination.tokens import read, spoken_keys


def resolved(text, previous=None):
    return load_resolver().resolve(text, previous)


def understood(text, previous=None):
    return [(one.step, dict(one.technique)) for one in resolved(text, previous).requests]


def steps(text):
    return [step for step, _ in understood(text)]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("nausea, vomiting or diarrhoea?", ["ask-nausea", "ask-vomiting", "ask-diarrhoea"]),
        ("heaves and thrills", ["parasternal-heave", "thrills"]),
        ("headache, vertigo and falls", ["ask-headache", "ask-vertigo", "ask-falls"]),
        ("troponin, d-dimer and lactate", ["troponin", "d-dimer", "lactate"]),
        ("listen to the heart and then the lungs", ["auscultate-heart", "breath-sounds"]),
        ("give oxygen and sit him up", ["give-oxygen", "sit-up"]),
    ],
)
def test_each_thing_of_a_list_is_a_request(text, wanted):
    assert steps(text) == wanted


def test_what_ends_a_list_after_a_comma_holds_for_all_of_it():
    assert understood("knee jerks and ankle jerks, both sides") == [
        ("knee-jerk", {"side": "both"}),
        ("ankle-jerk", {"side": "both"}),
    ]


def test_a_detail_of_what_was_asked_is_no_second_request():
    assert steps("look round the bed for oxygen, inhalers") == ["surroundings-look"]
    assert steps("look at his legs for scars and ulcers") == ["leg-look"]


def test_two_verbs_share_the_object_that_follows_them():
    assert understood("percuss and then auscultate the left upper zone at the front") == [
        ("chest-percussion", {"side": "left", "site": "front-upper-zone"}),
        ("breath-sounds", {"side": "left", "site": "front-upper-zone"}),
    ]


def test_a_pronoun_points_back_to_the_object_before():
    assert understood("squeeze the calves, then measure them with a tape") == [
        ("calf-tenderness", {}),
        ("calf-circumference", {"instrument": "tape-measure"}),
    ]


def test_nothing_is_shared_where_each_verb_has_its_object():
    assert with_shared_objects(read("feel the pulse and listen to the heart")) is None


def test_a_comma_costs_least_in_a_list_and_most_where_nothing_else_begins_a_request():
    assert costs(read("pulse, pressure and rate")) == [LOOSE_COST, LIST_COST, LIST_COST]
    assert costs(read("pulse, pressure")) == [LOOSE_COST, LOOSE_COST]
    assert costs(read("pulse and pressure"))[1] == SPLIT_COST
    assert LIST_COST < SPLIT_COST < LOOSE_COST


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("atropine 500 mcg", "give-atropine"),
        ("15 L oxygen", "give-oxygen"),
        ("furosemide 40 mg IV", "give-diuretic"),
        ("hydrocortisone 100 mg iv stat", "give-steroid"),
        ("IM adrenaline 0.5 mg", "give-adrenaline"),
        ("adenosine 6 mg", "give-rate-control"),
    ],
)
def test_a_known_drug_with_a_plain_dose_is_read(text, step):
    assert understood(text) == [(step, {})]


def test_a_list_of_drugs_with_doses_is_a_list_of_orders():
    assert steps("aspirin 300 mg plus GTN") == ["give-aspirin", "give-nitrate"]


@pytest.mark.parametrize("text", ["furosimide 40 mg", "adrenalene 0.5 mg", "zzzomycin 500 mg"])
def test_a_dose_never_makes_an_unknown_or_misspelt_drug_known(text):
    assert resolved(text).requests == ()


def test_the_words_of_a_dose_are_told_from_others():
    tokens = read("morphine 2.5 mg iv over 10 minutes").tokens
    assert [tokens[place].key for place in sorted(dose_places(tokens))] == [
        "2point5", "mg", "iv", "10", "minut",
    ]  # fmt: skip
    assert is_of_dose("500mcg")
    assert not is_of_dose("h2o")


def test_a_decimal_is_reported_as_it_was_written():
    assert resolved("give bisoprolol 2.5 mg").not_understood == ("2.5", "mg")


@pytest.mark.parametrize(
    ("text", "technique"),
    [
        ("approach from the right and feel the radial pulse", {}),
        ("is the patient in the right position, check the JVP", {}),
        ("look to the left and measure the JVP", {}),
        ("is the trachea deviated to the left", {}),
        ("count the radial pulse with the left hand under the arm", {}),
        ("check the right drug was given, ask about allergies", {}),
        ("radial pulse, right wrist", {"side": "right"}),
    ],
)
def test_a_side_that_belongs_to_the_room_or_the_finding_is_no_side_of_the_technique(
    text, technique
):
    assert [said for _, said in understood(text)] == [technique]


def test_one_side_compared_with_the_other_is_both_sides():
    assert understood("power of the right arm compared to the left") == [
        ("power-arms", {"side": "both"})
    ]


@pytest.mark.parametrize(
    "text",
    [
        "I think an ECG would be sensible at this point",
        "do an ECG because his chest hurts",
        "let me guess, an ECG",
    ],
)
def test_thinking_aloud_and_reasons_change_nothing(text):
    assert steps(text) == ["ecg"]


def test_no_pattern_of_idle_speech_is_missed_by_the_words_that_call_for_it():
    """Every name of the catalogue reads the same as if each pattern had been tried on it."""
    for step in load_catalogue().steps.values():
        for name in (step.label, *step.synonyms):
            slow = without_reasons(clean(name, is_spoken=False))
            for _, pattern, by in SPOKEN:
                slow = pattern.sub(by, slow)
            assert clean(name, is_spoken=True) == slow
    assert len(SPOKEN) == len(IDLE) + len(SIDES) + len(NO_SIDES)


def test_names_are_read_as_a_students_text_would_be():
    for step in load_catalogue().steps.values():
        for name in (step.label, *step.synonyms):
            said = tuple(token.key for token in read(name, lambda word: (word,)).tokens)
            assert spoken_keys(name) == said


@pytest.mark.parametrize(
    "text",
    [
        "play some music",
        "order a pizza with extra cheese",
        "two plus two",
        "the printer is jammed",
        "what is the capital of France",
        "book a taxi to the station",
        "hmm, let me think",
    ],
)
def test_what_asks_for_nothing_is_not_understood(text):
    assert resolved(text).status is Status.NOT_UNDERSTOOD


def test_only_a_name_that_says_more_than_an_everyday_word_is_shortened():
    """*See two of things* is no way to ask about sight by saying *two*."""
    assert resolved("two").requests == ()
    assert steps("do you see two of things") == ["ask-double-vision"]


def test_empty_words_that_tell_stay_where_one_word_would_be_left():
    assert content_keys("full minute") == ("ful", "minut")
    assert content_keys("ten points") == ("10", "point")
    assert content_keys("left side of the bed") == ("left", "side", "bed")


def test_a_word_of_the_name_tells_no_relaxing():
    assert understood("slow relaxing ankle jerks") == [("ankle-jerk-relaxation", {})]
    assert steps("ankle jerk, leg relaxed") in ([], ["ankle-jerk"])


def test_no_before_a_verb_denies():
    assert steps("no auscultation yet, just percuss the chest") == ["chest-percussion"]


def test_a_specific_verb_is_part_of_the_name():
    assert steps("squeeze my fingers") == ["power-grip"]
    assert steps("tap finger and thumb") == ["finger-tapping"]


def test_the_left_one_too_is_the_step_before_on_the_left():
    before = Request("knee-jerk", {"side": "right"})
    assert understood("left one too", before) == [("knee-jerk", {"side": "left"})]


def test_a_symptom_word_belongs_to_the_broad_question_about_it():
    """A case that only answers *cough, sputum and blood* must not show *no sputum* beside it."""
    assert steps("any haemoptysis?") == ["ask-cough"]
    assert steps("night sweats") == ["ask-fever"]
    assert steps("weight loss") == ["ask-weight-change"]
    assert steps("drenching night sweats") == ["ask-night-sweats"]


def test_the_bases_alone_are_the_bases_and_breath_sounds_there_are_a_zone_of_the_lungs():
    assert steps("lung bases") == ["lung-bases-listen"]
    assert understood("breath sounds at the left base posteriorly") == [
        ("breath-sounds", {"side": "left", "site": "back-lower-zone"})
    ]


def test_a_murmur_into_the_neck_is_its_radiation():
    assert steps("does the murmur go into the neck") == ["murmur-radiation"]
