"""When a step is worth practising again, by a published rule of spaced repetition.

The rule is algorithm SM-2 of P. A. Wozniak, "Optimization of learning", master's thesis, University
of Technology in Poznan, 1990, from its public description: the first interval is 1 day, the second
6 days, each later one the one before times an easiness E, rounded up; E starts at 2.5 and after a
grade q of 0-5 becomes E + (0.1 - (5 - q)(0.08 + (5 - q) 0.02)), never under 1.3; a grade under 3
begins the intervals anew and leaves E as it is (that last clause from memory).

How an encounter becomes a grade is our own choice, see ``grade_of``. Holds no clock.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

FIRST_DAYS, SECOND_DAYS = 1, 6
FIRST_EASINESS, LEAST_EASINESS = 2.5, 1.3
RECALLED = 3
DONE_WELL, DONE, MISSED = 5, 3, 1


@dataclass(frozen=True)
class Memory:
    """What is known of one step: repetitions in a row, days until the next, easiness."""

    repetitions: int = 0
    days: int = 0
    easiness: float = FIRST_EASINESS


def reviewed(memory: Memory, grade: int) -> Memory:
    """The memory after a repetition of this grade, 0 (nothing) to 5 (at once and right).

    Raises ValueError for another grade.
    """
    if grade not in range(6):
        raise ValueError(f"grade is {grade}: give a whole number from 0 to 5.")
    if grade < RECALLED:
        return Memory(0, FIRST_DAYS, memory.easiness)
    repetitions = memory.repetitions + 1
    days = _next_days(memory, repetitions)
    return Memory(repetitions, days, _easier(memory.easiness, grade))


def _next_days(memory: Memory, repetitions: int) -> int:
    if repetitions == 1:
        return FIRST_DAYS
    if repetitions == 2:
        return SECOND_DAYS
    return math.ceil(round(memory.days * memory.easiness, 6))  # 6 decimals: no day for rounding


def _easier(easiness: float, grade: int) -> float:
    short = 5 - grade
    return max(LEAST_EASINESS, round(easiness + 0.1 - short * (0.08 + short * 0.02), 6))


def grade_of(*, is_done: bool, is_well: bool | None) -> int:
    """An essential step of one encounter as a grade: 1 missed, 3 done but not well, else 5."""
    if not is_done:
        return MISSED
    return DONE if is_well is False else DONE_WELL


@dataclass(frozen=True)
class Practice:
    """One step over all encounters that wanted it."""

    step: str
    wanted: int
    missed: int
    last: date
    due: date
    easiness: float

    def days_left(self, today: date) -> int:
        """Days until it is due; negative where it is overdue."""
        return (self.due - today).days


def practice_of(step: str, grades: Iterable[tuple[date, int]]) -> Practice:
    """The schedule of one step from its dated grades, which are taken in order of date.

    Raises ValueError without any.
    """
    dated = sorted(grades)
    if not dated:
        raise ValueError(f"there is no grade for {step}: leave the step out.")
    memory = Memory()
    for _, grade in dated:
        memory = reviewed(memory, grade)
    last = dated[-1][0]
    missed = sum(grade < RECALLED for _, grade in dated)
    due = last + timedelta(days=memory.days)
    return Practice(step, len(dated), missed, last, due, memory.easiness)


def in_order(practices: Iterable[Practice]) -> tuple[Practice, ...]:
    """What is due earliest first; of one day, what was missed most, then what is hardest."""
    return tuple(sorted(practices, key=lambda p: (p.due, -p.missed, p.easiness, p.step)))
