"""Sides that are said and not meant: covered, taken back, left alone, or only half of both."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_resolver
from casebank.domain.encounter.model import Request


def side(text):
    (request,) = load_resolver().resolve(text).requests
    return request.technique.get("side")


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("pinch the left nostril shut, coffee under the right", "right"),
        ("Ishihara plates right eye, palm over the left", "right"),
        ("pop a hand over your left eye and read down the letters on the chart", "right"),
        ("visual acuity, left one under the card", "right"),
        ("test his sense of smell with the right nostril blocked", "left"),
    ],
)
def test_what_is_covered_is_not_what_is_tested(text, meant):
    assert side(text) == meant


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("blood pressure, left arm, no hang on, he's got a fistula there, so the right", "right"),
        ("knee jerk on the right, sorry, I mean the left", "left"),
        ("plantar on the right, no, other right, I mean the left", "left"),
    ],
)
def test_of_sides_taken_back_the_last_is_meant(text, meant):
    assert side(text) == meant


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("10 g monofilament right foot only, the left sole has a dressing", "right"),
        ("thumb into the right ankle for oedema, leave the left alone", "right"),
        ("knee jerks, right then left", "both"),
        ("knee jerk, first the left, then the right", "both"),
        ("smell test, one nostril at a time", "both"),
        ("Allen's test: squash both arteries, let go of the ulnar, does it flush", None),
        ("is that right, the knee jerk next", None),
    ],
)
def test_one_side_alone_both_or_none(text, meant):
    assert side(text) == meant


def test_two_places_on_two_sides_are_not_both_sides():
    found = load_resolver().resolve("left knee jerk then right ankle jerk").requests
    assert [(one.step, one.technique.get("side")) for one in found] == [
        ("knee-jerk", "left"),
        ("ankle-jerk", "right"),
    ]


def test_left_and_right_far_apart_are_asked_about():
    found = load_resolver().resolve("right knee jerk with his heel crossed over the left shin")
    assert not {one.technique.get("side") for one in found.requests} & {"left", "both"}


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("press along the ribs, R axillary line", "right"),
        ("hip and knee at a right angle, then straighten the left knee for Kernig", "left"),
        ("armpit glands, R only - L was cleared years ago", "right"),
        ("cover your left eye and read the lowest line, then we'll swap over", "both"),
        ("Right, he's propped at forty-five, how high is the neck vein", None),
        ("exophthalmos, one eye or both?", None),
    ],
)
def test_a_word_that_sounds_like_a_side_is_not_one(text, meant):
    assert side(text) == meant


@pytest.mark.parametrize(
    "text",
    [
        "get him to tap his thigh with the other hand while you do it",
        "now while he pats his other knee",
        "get her to wave the opposite arm up and down meanwhile",
    ],
)
def test_the_other_limb_that_reinforces_is_not_the_one_examined(text):
    before = Request("tone-arms", {"side": "left", "effort": "relaxed"})
    (request,) = load_resolver().resolve(text, before).requests
    assert request.technique == {"side": "left", "effort": "reinforced"}


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("lie flat, hand behind your head, I'll feel your left breast first, then the right",
         "both"),
        ("look at my nose whilst I turn your head fast to the right, and then to the left", "both"),
        ("feel his left calf gently, since a clot both swells and hurts", "left"),
        ("feel both palms for thickened cords", "both"),
        ("push down on both outstretched arms and let go suddenly", "both"),
    ],
)  # fmt: skip
def test_both_is_two_sides_only_of_what_one_has_two_of(text, meant):
    assert side(text) == meant
