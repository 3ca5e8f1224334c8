"""Phrasings written without the synonyms are read no worse than measured, in totals only.

What may be learned from flatters; the batches ``report`` were only ever counted: theirs are the honest
figures, see ``tests/evaluation/README.md``. Floors stand one to two points below what was measured.
Most of what was learned is not read here, which would cost minutes.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from casebank.core.fixtures import load_resolver
from tests.evaluation.entries import load_phrasings
from tests.evaluation.evaluate import read


@dataclass(frozen=True)
class Floor:
    """Least shares of all texts and of the answered, most of the rest; sides and outside count."""

    texts: int
    of_all: tuple[float, float]
    answered: tuple[float, float]
    asked_back: float
    not_understood: float
    wrong_sides: int
    outside: int


FLOORS = {
    ("first", "tune"): Floor(2000, (0.97, 0.96), (0.98, 0.97), 0.02, 0.005, 2, 8),
    ("fourteenth", "report"): Floor(950, (0.91, 0.88), (0.94, 0.91), 0.04, 0.015, 2, 3),
    ("sixteenth", "report"): Floor(950, (0.93, 0.89), (0.955, 0.915), 0.03, 0.01, 6, 9),
}


def decidable(rows):
    return [grade for one, grade, _ in rows if not (one.outside or one.ambiguous)]


def share(grades, name):
    return sum(getattr(grade, name) for grade in grades) / len(grades)


def shortfalls(rows, floor):
    """Name, measured and bound of every count that is worse than its floor."""
    clear = decidable(rows)
    answered = [grade for grade in clear if grade.answered]
    outside = [grade for one, grade, _ in rows if one.outside]
    least = [
        ("texts", len(rows), floor.texts),
        ("right step of all", share(clear, "step_right"), floor.of_all[0]),
        ("right technique of all", share(clear, "technique_right"), floor.of_all[1]),
        ("right step where answered", share(answered, "step_right"), floor.answered[0]),
        ("right technique where answered", share(answered, "technique_right"), floor.answered[1]),
    ]
    most = [
        ("asked back", share(clear, "asked_back"), floor.asked_back),
        ("not understood", share(clear, "not_understood"), floor.not_understood),
        ("wrong sides", sum(grade.wrong_side for grade in clear), floor.wrong_sides),
        ("outside answered", sum(grade.answered for grade in outside), floor.outside),
    ]
    return [one for one in least if one[1] < one[2]] + [one for one in most if one[1] > one[2]]


@pytest.mark.parametrize("part", FLOORS, ids=" ".join)
def test_phrasings_are_read_no_worse_than_measured(part):
    phrasings = (one for one in load_phrasings() if (one.batch, one.half) == part)
    rows = [read(load_resolver(), each) for each in phrasings]
    assert shortfalls(rows, FLOORS[part]) == []
