"""What is said once for several parts of a sentence holds for each of them."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_resolver
from casebank.domain.examination.distributing import distributed
from casebank.domain.examination.tokens import read


def understood(text):
    return [(one.step, dict(one.technique)) for one in load_resolver().resolve(text).requests]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (
            "tone and power in the left leg",
            [("tone-legs", {"side": "left"}), ("power-legs", {"side": "left"})],
        ),
        (
            "Phalen and Tinel at the right wrist",
            [("wrist-flexion-test", "right"), ("nerve-tap-wrist", "right")],
        ),
        ("sacral and ankle oedema", [("sacral-oedema", {}), ("ankle-oedema", {})]),
        (
            "palpate and auscultate the right femoral artery",
            [("femoral-pulse", {"side": "right"}), ("femoral-bruit", {"side": "right"})],
        ),
        (
            "inspect and palpate the abdomen",
            [("inspect-abdomen", {}), ("light-palpation-abdomen", {})],
        ),
    ],
)
def test_an_ending_or_an_object_said_once_is_said_of_each_part(text, wanted):
    found = understood(text)
    assert [step for step, _ in found] == [step for step, _ in wanted]
    for (_, technique), (_, expected) in zip(found, wanted, strict=True):
        side = expected if isinstance(expected, str) else expected.get("side")
        assert technique.get("side") == side


def test_a_side_before_a_colon_holds_for_all_that_follows():
    assert understood("left knee ligaments: collaterals, drawer tests, McMurray's") == [
        ("knee-collaterals", {"side": "left"}),
        ("knee-cruciate-drawer", {"side": "left"}),
        ("knee-meniscus", {"side": "left"}),
    ]


def test_a_posture_told_before_the_first_request_holds_for_the_second():
    assert understood("with him on his left side, inspect the anus and do a PR") == [
        ("perianal-inspect", {"posture": "left-lateral"}),
        ("rectal-examination", {"posture": "left-lateral"}),
    ]


def test_one_act_of_two_verbs_stays_one():
    assert [step for step, _ in understood("bend and straighten the knee")] == ["knee-move"]


def test_nothing_is_distributed_in_a_sentence_of_one_part():
    assert list(distributed(read("feel the pulse"))) == []


def test_other_readings_hold_the_same_written_words():
    plain = read("tone, power and reflexes in the left leg")
    for other in distributed(plain):
        assert other.words == plain.words
        assert {n for token in other.tokens for n in token.words} == {
            n for token in plain.tokens for n in token.words
        }
