"""Where left and right are both said, the one meant is taken, or the student is asked which."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_resolver
from casebank.domain.examination.resolution import Status


def resolved(text):
    return load_resolver().resolve(text)


def read(text):
    return [(one.step, one.technique.get("side")) for one in resolved(text).requests]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("keep it straight and lift, right leg, with you flat. Skip the left for its groin wound",
         ("straight-leg-raise", "right")),
        (("sore right shoulder, so I'd lift the left arm and feel whether the pulse slaps and "
         "falls away"), ("collapsing-pulse", "left")),
        ("prone, squeeze the R calf, does the foot point? the left tendon was stitched in 2019",
         ("achilles-squeeze", "right")),
        (("full examination of the left knee please and then go through the right in the same "
         "order"), ("knee-examination", "both")),
    ],
)  # fmt: skip
def test_the_side_that_is_meant_is_taken_once(text, wanted):
    assert read(text) == [wanted]


def test_a_side_in_a_reason_and_both_in_the_request_are_one_request_on_both():
    text = "focal fit in the left arm this morning. I'd compare the jerks in both arms, all three"
    assert read(text) == [("reflexes-arms", "both")]


def test_where_it_is_not_clear_each_side_is_offered():
    found = resolved("crossed SLR: lift the right, ask about pain down the left")
    assert found.status is Status.ASK_BACK
    offered = {(one.step, one.technique.get("side")) for one in found.alternatives}
    assert {("straight-leg-raise", "left"), ("straight-leg-raise", "right")} <= offered


def test_no_side_is_offered_that_the_step_does_not_take():
    found = resolved("fistula on the left so the cuff, a large one, goes on the R arm")
    steps = load_resolver().catalogue.steps
    for one in (*found.requests, *found.alternatives):
        slot = next(each for each in steps[one.step].slots if each.slot == "side")
        assert one.technique["side"] in slot.values


def test_each_site_keeps_its_own_side():
    text = "percuss the left base at the back and the right apex"
    assert set(read(text)) == {("chest-percussion", "left"), ("chest-percussion", "right")}


def test_the_other_arm_is_not_the_one_with_the_drip():
    found = resolved("drip running in the right arm, take the pressure in the other, sitting")
    assert [one.technique["side"] for one in found.requests] in ([], ["left"])


def test_another_hand_at_work_changes_no_side():
    text = "hammer the left knee while she grips the other hand"
    assert read(text) == [("knee-jerk", "left")]


def test_the_side_turned_to_is_not_the_one_examined():
    text = "Roll on your left and I'll draw the right leg back behind you, does your tummy hurt?"
    assert read(text) == [("psoas-sign", "right")]
