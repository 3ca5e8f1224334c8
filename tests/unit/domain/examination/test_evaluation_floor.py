"""Phrasings written without the synonyms are read no worse than measured, in totals only.

The half ``tune`` was used to improve the resolver, and some of its errors became synonyms, so that
its figures flatter. ``report`` was only ever counted: its figures are the honest ones. Measured
(right step / step and technique where it answers / asked back): ``tune`` 99.9 / 99.7 / 1.0 %,
``report`` 95.6 / 93.1 / 3.6 %. The aim of 97 / 95 / 5 % is thus not reached on unseen texts, but
for what is asked back. Floors stand one to two points below.
"""

from __future__ import annotations

from functools import cache

import pytest

from casebank.core.fixtures import load_resolver
from tests.evaluation.entries import load_phrasings
from tests.evaluation.evaluate import read

FEWEST_TEXTS = 1000
LEAST_OF_ALL = {"tune": (0.97, 0.965), "report": (0.90, 0.875)}
LEAST_WHERE_IT_ANSWERS = {"tune": (0.98, 0.975), "report": (0.945, 0.92)}
MOST_ASKED_BACK = {"tune": 0.025, "report": 0.05}
MOST_NOT_UNDERSTOOD = {"tune": 0.01, "report": 0.02}
MOST_WRONG_SIDES = {"tune": 0, "report": 1}
"""Texts, not shares. The one of ``report`` is a known fault that nobody may look up there."""
MOST_ANSWERED_FROM_OUTSIDE = {"tune": 0, "report": 6}
"""Texts that ask for nothing the catalogue holds and are answered all the same."""

halves = pytest.mark.parametrize("half", ["tune", "report"])


@cache
def rows(half):
    return [read(load_resolver(), each) for each in load_phrasings() if each.half == half]


def decidable(half):
    return [
        grade for phrasing, grade, _ in rows(half) if not (phrasing.outside or phrasing.ambiguous)
    ]


def share(grades, name):
    return sum(getattr(grade, name) for grade in grades) / len(grades)


@halves
def test_there_are_enough_texts_to_count(half):
    assert len(rows(half)) >= FEWEST_TEXTS


@halves
def test_of_all_decidable_texts_enough_are_read_rightly(half):
    step, technique = LEAST_OF_ALL[half]
    assert share(decidable(half), "step_right") >= step
    assert share(decidable(half), "technique_right") >= technique


@halves
def test_where_an_answer_is_given_it_is_mostly_right(half):
    answered = [grade for grade in decidable(half) if grade.answered]
    step, technique = LEAST_WHERE_IT_ANSWERS[half]
    assert share(answered, "step_right") >= step
    assert share(answered, "technique_right") >= technique


@halves
def test_few_decidable_texts_are_asked_back_or_not_understood(half):
    assert share(decidable(half), "asked_back") <= MOST_ASKED_BACK[half]
    assert share(decidable(half), "not_understood") <= MOST_NOT_UNDERSTOOD[half]


@halves
def test_sides_are_not_mistaken(half):
    assert sum(grade.wrong_side for grade in decidable(half)) <= MOST_WRONG_SIDES[half]


@halves
def test_what_lies_outside_the_catalogue_is_seldom_answered(half):
    outside = [grade for phrasing, grade, _ in rows(half) if phrasing.outside]
    assert outside
    assert sum(grade.answered for grade in outside) <= MOST_ANSWERED_FROM_OUTSIDE[half]
