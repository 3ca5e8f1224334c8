"""Sides said badly: taken back, one after the other, shortened, or of the covered eye."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_resolver


def understood(text):
    return [(one.step, dict(one.technique)) for one in load_resolver().resolve(text).requests]


@pytest.mark.parametrize(
    ("text", "step", "technique"),
    [
        ("ballot the right, no, the left kidney", "kidneys-ballot", {"side": "left"}),
        ("dorsalis pedis on the left, sorry, the right", "dorsalis-pedis-pulse", {"side": "right"}),
    ],
)
def test_of_two_sides_the_one_taken_back_is_not_meant(text, step, technique):
    assert understood(text) == [(step, technique)]


def test_a_site_taken_back_is_not_listened_at():
    assert understood("listen at the aortic, no sorry, the pulmonary area") == [
        ("auscultate-heart", {"site": "pulmonary-area"})
    ]


@pytest.mark.parametrize("text", ["lachman left then right", "lachman b/l", "lachman R vs L"])
def test_one_side_then_the_other_is_both(text):
    assert understood(text) == [("knee-cruciate-slight-bend", {"side": "both"})]


def test_left_and_right_eye_have_their_letters():
    assert understood("visual fields OS") == [("visual-fields", {"side": "left"})]
    assert understood("visual acuity OD") == [("visual-acuity", {"side": "right"})]


def test_the_eye_that_is_covered_is_not_the_one_that_reads():
    assert understood("cover your left eye and read the lowest line") == [
        ("visual-acuity", {"side": "right"})
    ]


def test_social_history_may_be_written_in_two_letters_and_she_is_no_history():
    assert [step for step, _ in understood("SH")] == ["ask-social"]
    assert understood("have you got a rash?") == [("ask-rash", {})]
