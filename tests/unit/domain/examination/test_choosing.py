"""Which of several near steps is meant: words that were understood before tell it."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_catalogue, load_resolver
from casebank.domain.examination import choosing
from casebank.domain.examination.model import Method
from casebank.domain.examination.resolve import Resolver


def parts(text, resolver=None):
    resolver = resolver or load_resolver()
    reading = resolver.reading(text)
    return reading, resolver.sentences.parts(reading)


def steps(text):
    return [one.step for one in load_resolver().resolve(text).requests]


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("what's the muck you bring up like - green, thick, an eggcupful?", "ask-sputum-detail"),
        ("get him on the treadmill all wired up and see if it brings his chest pain on",
         "exercise-test"),
        ("is the windpipe in the middle or shoved to one side", "tracheal-position"),
    ],
)  # fmt: skip
def test_words_that_name_no_step_are_read_by_what_they_meant_before(text, step):
    assert steps(text) == [step]


def test_a_step_named_in_full_with_its_technique_stands():
    assert steps("Listen to the heart, reclined at 45 degrees") == ["auscultate-heart"]
    _, (answer,) = parts("Listen to the heart, reclined at 45 degrees")
    assert choosing.stands(answer)


def test_without_a_table_the_order_of_scores_stands():
    resolver = Resolver(load_catalogue())
    for text in ("any blood in the water works", "push the belly while the veins are watched"):
        for answer in parts(text, resolver)[1]:
            scores = [one.score for one in answer.ranked]
            assert scores == sorted(scores, reverse=True)


def test_choosing_reorders_and_loses_nothing():
    reading, (answer, *_) = parts("two fingers on his wrist for a minute")
    again = choosing.chosen(answer, reading, load_resolver().sentences.grounds)
    assert sorted(one.slug for one in again.ranked) == sorted(one.slug for one in answer.ranked)


def test_a_part_takes_over_the_verb_before_it():
    assert steps("listen to the heart and then the lungs") == ["auscultate-heart", "breath-sounds"]


@pytest.mark.parametrize(
    "text",
    ["gently", "this test tells us if you're fighting an infection"],
)
def test_no_treatment_is_given_that_was_not_named(text):
    steps_of = load_catalogue().steps
    assert not [slug for slug in steps(text) if steps_of[slug].method is Method.TREAT]
