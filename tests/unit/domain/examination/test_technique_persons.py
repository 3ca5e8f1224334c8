"""Whose posture is said: the patient's is technique, the examiner's own is not."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_resolver


def told(text):
    return dict(load_resolver().resolve(text).requests[0].technique)


@pytest.mark.parametrize(
    ("text", "posture"),
    [
        ("popliteal pulse with him on his tummy", "prone"),
        ("heel shin test on his back", "supine"),
        ("psoas sign, rolled onto the left", "left-lateral"),
    ],
)
def test_how_the_patient_lies_is_read(text, posture):
    assert told(text).get("posture") == posture


@pytest.mark.parametrize(
    "text",
    [
        "pull test, I'm standing behind you",
        "lay my hand flat on his chest to feel the apex beat",
    ],
)
def test_how_the_examiner_stands_or_lays_a_hand_is_not(text):
    assert "posture" not in told(text)


def test_a_push_against_the_examiner_is_resisted():
    assert told("knee extension power, straighten it against me").get("effort") == "resisted"
