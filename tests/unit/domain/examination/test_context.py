"""A text that leans back is read in the light of the request before it."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

from casebank.core.fixtures import load_resolver


@dataclass
class Before:
    step: str
    technique: dict[str, str] = field(default_factory=dict)


def understood(text, before, **technique):
    found = load_resolver().resolve(text, previous=Before(before, technique))
    return [(one.step, dict(one.technique)) for one in found.requests]


@pytest.mark.parametrize(
    ("before", "text", "wanted"),
    [
        ("knee-jerk", "and the ankle?", "ankle-jerk"),
        ("radial-pulse-rate", "and is it regular?", "radial-pulse-rhythm"),
        ("tone-arms", "and the legs", "tone-legs"),
    ],
)
def test_what_was_just_said_need_not_be_said_again(before, text, wanted):
    assert [step for step, _ in understood(text, before)] == [wanted]


def test_a_side_stays_where_the_text_points_back():
    assert understood(
        "any rebound there?", "light-palpation-abdomen", site="right-iliac-fossa"
    ) == [("rebound-tenderness", {"site": "right-iliac-fossa"})]
    assert understood(
        "now say ninety-nine", "breath-sounds", side="left", site="back-lower-zone"
    ) == [("vocal-resonance", {"side": "left", "site": "back-lower-zone"})]


def test_a_request_of_its_own_inherits_nothing():
    assert understood("ankle jerk", "knee-jerk", side="left") == [("ankle-jerk", {})]
    assert understood("now measure the blood pressure", "radial-pulse-rate", side="left") == [
        ("blood-pressure", {})
    ]


@pytest.mark.parametrize("text", ["compare with the left", "and the left", "same on the left"])
def test_the_same_step_is_meant_where_only_a_side_is_new(text):
    assert understood(text, "chest-percussion", side="right") == [
        ("chest-percussion", {"side": "left"})
    ]


def test_without_a_request_before_the_text_stands_alone():
    found = load_resolver().resolve("and the ankle?")
    assert "ankle-jerk" not in {one.step for one in found.requests}
