"""The schedule rule against its published sequence, and what must always hold."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.scheduling import (
    LEAST_EASINESS,
    Memory,
    grade_of,
    in_order,
    practice_of,
    reviewed,
)

MONDAY = date(2026, 3, 2)
grades = st.lists(st.integers(0, 5), min_size=1, max_size=30)


def after(*given_grades):
    memory, seen = Memory(), []
    for grade in given_grades:
        memory = reviewed(memory, grade)
        seen.append(memory)
    return seen


def test_intervals_at_easiness_two_and_a_half_are_those_of_the_rule():
    # Wozniak 1990, SM-2: I(1) = 1, I(2) = 6, I(n) = I(n-1) x EF, fractions rounded up.
    # Grade 4 leaves EF at 2.5: 6 x 2.5 = 15, 37.5 -> 38, 95, 237.5 -> 238.
    memories = after(4, 4, 4, 4, 4, 4)
    assert [memory.days for memory in memories] == [1, 6, 15, 38, 95, 238]
    assert {memory.easiness for memory in memories} == {2.5}


@pytest.mark.parametrize(
    ("grade", "easiness"), [(5, 2.6), (4, 2.5), (3, 2.36), (2, 2.5), (1, 2.5), (0, 2.5)]
)
def test_easiness_changes_by_the_formula_and_not_at_a_failure(grade, easiness):
    # EF' = EF + (0.1 - (5 - q)(0.08 + (5 - q) 0.02)): +0.10, 0, -0.14 for grades 5, 4, 3.
    assert after(grade)[0].easiness == pytest.approx(easiness)


def test_a_failure_begins_the_intervals_anew():
    assert [memory.days for memory in after(5, 5, 5, 1, 5, 5)] == [1, 6, 17, 1, 1, 6]


@given(grades)
def test_easiness_never_falls_below_its_floor_and_days_never_below_one(given_grades):
    for memory in after(*given_grades):
        assert memory.easiness >= LEAST_EASINESS
        assert memory.days >= 1


@given(grades)
def test_a_better_last_grade_never_brings_the_step_back_sooner(given_grades):
    *before, last = given_grades
    memory = after(*before)[-1] if before else Memory()
    days = [reviewed(memory, grade).days for grade in range(last, 6)]
    assert days == sorted(days)


@pytest.mark.parametrize("grade", [-1, 6])
def test_a_grade_outside_the_scale_is_refused(grade):
    with pytest.raises(ValueError, match="from 0 to 5"):
        reviewed(Memory(), grade)


def test_an_encounter_is_graded_by_what_was_done():
    assert grade_of(is_done=False, is_well=None) == 1
    assert grade_of(is_done=True, is_well=False) == 3
    assert grade_of(is_done=True, is_well=True) == 5
    assert grade_of(is_done=True, is_well=None) == 5


def test_a_missed_step_is_due_the_next_day_and_counts_as_missed():
    found = practice_of("listen", [(MONDAY, 5), (MONDAY + timedelta(days=3), 1)])
    assert (found.wanted, found.missed) == (2, 1)
    assert found.due == MONDAY + timedelta(days=4)
    assert found.days_left(MONDAY + timedelta(days=6)) == -2


@given(st.permutations([(MONDAY, 5), (MONDAY + timedelta(1), 3), (MONDAY + timedelta(2), 1)]))
def test_the_order_in_which_grades_are_given_does_not_matter(dated):
    assert practice_of("a", dated) == practice_of("a", sorted(dated))


def test_what_is_due_first_comes_first_and_then_what_was_missed_most():
    once = practice_of("once", [(MONDAY, 1)])
    twice = practice_of("twice", [(MONDAY, 1), (MONDAY, 1)])
    well = practice_of("well", [(MONDAY, 5), (MONDAY, 5)])
    assert [one.step for one in in_order([well, once, twice])] == ["twice", "once", "well"]


def test_a_step_without_a_grade_is_refused():
    with pytest.raises(ValueError, match="leave the step out"):
        practice_of("listen", [])
