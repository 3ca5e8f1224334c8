"""After a request a text may ask for the same step in another way, or for something else."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_resolver
from casebank.domain.encounter.model import Request
from tests.evaluation.entries import load_phrasings

FOLLOWING = [
    one
    for one in load_phrasings()
    if one.after and one.half == "report" and len(one.requests) == 1 and not one.ambiguous
]


def read(text, step, **technique):
    found = load_resolver().resolve(text, Request(step, technique))
    return [(one.step, dict(one.technique)) for one in found.requests]


@pytest.mark.parametrize(
    "text", ["now lying flat", "and with her lying flat", "now flat on her back"]
)
def test_a_posture_that_the_step_takes_changes_it_and_is_no_treatment(text):
    assert read(text, "breast-examination", side="right", posture="sitting") == [
        ("breast-examination", {"side": "right", "posture": "supine"})
    ]


@pytest.mark.parametrize(
    "text", ["now the fellow eye", "the other one now", "same on the other side"]
)
def test_the_other_of_two_is_the_other_side(text):
    assert read(text, "fundi-look", side="right") == [("fundi-look", {"side": "left"})]


def test_the_hand_that_is_clenched_to_reinforce_is_not_the_side_examined():
    text = "again but she taps her knee with the other hand"
    (request,) = read(text, "tone-arms", side="left", effort="relaxed")
    assert request[1]["side"] == "left"


def test_another_look_is_no_other_side():
    (request,) = read("have another look with him standing", "knee-look", side="right")
    assert request == ("knee-look", {"side": "right", "posture": "standing"})


def test_a_verb_and_a_place_ask_anew():
    before = {"site": "apex", "instrument": "bell", "posture": "left-lateral"}
    assert read("now listen at the aortic area", "auscultate-heart", **before) == [
        ("auscultate-heart", {"site": "aortic-area"})
    ]


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("now feel for thrills", "thrills"),
        ("blood pressure in the right arm", "blood-pressure"),
        ("ask about his drugs", "ask-drugs"),
        ("listen to the back of the chest", "breath-sounds"),
    ],
)
def test_a_request_of_its_own_is_never_taken_for_the_one_before(text, step):
    assert [one for one, _ in read(text, "auscultate-heart", site="apex")] == [step]


def test_most_texts_that_only_counted_ones_hold_ask_for_the_step_before_where_they_should():
    same = [one for one in FOLLOWING if one.requests[0].step == one.after.step]
    right = 0
    for one in same:
        found = load_resolver().resolve(one.text, one.after)
        right += [each.step for each in found.requests] == [one.after.step]
    assert len(same) > 40
    assert right / len(same) > 0.8
