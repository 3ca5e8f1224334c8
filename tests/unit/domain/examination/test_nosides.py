"""*Left* and *right* as what remains, what is correct, a place in the brain, the examiner's hand."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_resolver


def technique(text):
    (request,) = load_resolver().resolve(text).requests
    return dict(request.technique)


@pytest.mark.parametrize(
    "text",
    [
        "is there any strength left in that thumb when he points it at the ceiling",
        "last thing left on my sheet: the pulse behind the inner ankle bone",
        "the puffiness has left her hands, she says, but I'd still squeeze across the knuckles",
        "I think it would be right to check for pitting: thumb in above the ankle",
        "128 fork right on the knuckle of the big toe, eyes shut, say when the buzz goes",
        "CT shows a left MCA infarct. Palms up, hold your arms out and close your eyes for me",
        "I hold up my left index at arm's length: touch it, now your own nose, back and forth",
    ],
)
def test_a_word_that_tells_no_side_gives_none(text):
    assert "side" not in technique(text)


@pytest.mark.parametrize(
    ("text", "side"),
    [
        ("check the power in the right arm, left MCA stroke", "right"),
        ("feel the right temporal artery", "right"),
        ("look at the left fundus, known right parietal stroke", "left"),
        ("feel in the left popliteal fossa for nodes", "left"),
        ("red pin sideways until it vanishes; patient's right eye against my left", "right"),
    ],
)
def test_a_side_beside_one_is_kept(text, side):
    assert technique(text)["side"] == side


def test_who_lies_on_a_side_is_turned_not_examined_there():
    lying = "swing yourself over onto your left side and let me draw the thigh back behind you"
    assert technique(lying) == {"posture": "left-lateral"}
    counted = "she can only lie on her right side at present so I'll count the pulse like that"
    assert "side" not in technique(counted)
