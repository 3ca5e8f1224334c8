"""What a rehearsal found, said to its author."""

from __future__ import annotations

import pytest

from casebank.rehearsals.sentences import differential_words, unreached_words

SPACE = "\N{NO-BREAK SPACE}"


def found(verdict, *truth, rival="Pneumonia", share=0.2):
    rows = [{"label": label, "careful": p, "is_true": True} for label, p in truth]
    other = {"label": rival, "careful": share, "is_true": False}
    return {
        "verdict": verdict,
        "rival": rival,
        "rival_probability": share,
        "rows": [*rows, other],
    }


def test_a_clear_lead_is_a_yes_with_its_numbers():
    words = differential_words(found("apart", ("Heart failure", 0.8)))
    assert words.startswith("Yes.")
    assert f"Heart failure 80{SPACE}%; the next is Pneumonia 20{SPACE}%." in words


def test_all_that_is_true_is_named():
    words = differential_words(found("apart", ("Heart failure", 0.52), ("Oedema", 0.475)))
    assert f"Heart failure 52{SPACE}% and Oedema 48{SPACE}%" in words


def test_a_narrow_lead_and_none_say_what_to_do():
    assert "Give the scheme a step" in differential_words(found("hardly", ("Heart failure", 0.4)))
    assert "Look at the outcomes" in differential_words(found("not", ("Heart failure", 0.1)))


@pytest.mark.parametrize(("share", "said"), [(0.0001, "under 1"), (0.995, "over 99"), (0.5, "50")])
def test_no_probability_is_said_as_nothing_or_all(share, said):
    words = differential_words(found("apart", ("Heart failure", 0.9), share=share))
    assert f"Pneumonia {said}{SPACE}%" in words


@pytest.mark.parametrize(
    ("why", "said"),
    [
        ("stage", "Nobody asked for anything in the stage it holds in (Later)."),
        ("outside-scheme", "The scheme does not ask for its step"),
        ("never-done", "Nobody did its step while it holds (Later)."),
        ("technique", "never so that it shows. It shows with: lying flat."),
    ],
)
def test_why_nobody_reached_a_finding(why, said):
    assert said in unreached_words({"why": why, "stages": ["Later"], "shows_with": "lying flat"})
