"""The figures of a report against the published LSAT6 table, and small cells."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.analytics.figures import (
    ReasonCount,
    StepItem,
    across_figures,
    adjusted_figures,
    case_figures,
)
from tests.factories.published import LSAT6

ITEMS = [StepItem(f"item-{n}", f"Item {n}", "") for n in range(5)]


def test_facility_discrimination_and_alpha_reproduce_lsat6():
    # Bock & Lieberman 1970; facilities, corrected correlations and alpha as psych and ltm give
    # them, with Feldt's interval.
    scores = LSAT6.astype(float)
    found = case_figures("LSAT6", ITEMS, scores, scores.sum(axis=1), [], floor=10)
    facilities = [step["facility"]["value"] for step in found["steps"]]
    corrected = [step["discrimination"]["value"] for step in found["steps"]]
    assert facilities == pytest.approx([0.924, 0.709, 0.553, 0.763, 0.870], abs=5e-4)
    assert corrected == pytest.approx([0.1128, 0.1532, 0.1728, 0.1444, 0.1216], abs=5e-5)
    assert found["alpha"]["value"] == pytest.approx(0.2950, abs=5e-5)
    assert found["alpha"]["ci_low"] == pytest.approx(0.2235, abs=5e-4)
    assert found["alpha"]["ci_high"] == pytest.approx(0.3618, abs=5e-4)


def scores(*counts: int, n: int = 40) -> np.ndarray:
    return np.array([[1.0 if row < count else 0.0 for count in counts] for row in range(n)])


def test_a_case_with_few_students_shows_nothing():
    few = scores(5, 4, n=9)
    found = case_figures("Few", ITEMS[:2], few, few.sum(axis=1), [], floor=10)
    assert found["n"] is None
    assert "steps" not in found


@pytest.mark.parametrize("count", [1, 9, 31, 39])
def test_a_count_or_its_complement_below_the_floor_is_hidden(count):
    found = case_figures("C", ITEMS[:2], scores(20, count), np.arange(40.0), [], floor=10)
    assert found["steps"][1]["facility"] is None
    assert "fewer than 10" in found["steps"][1]["bound"]


@pytest.mark.parametrize("count", [10, 20, 30])
def test_a_count_with_enough_behind_it_is_shown(count):
    found = case_figures("C", ITEMS[:2], scores(20, count), np.arange(40.0), [], floor=10)
    assert found["steps"][1]["facility"]["value"] == count / 40
    assert found["steps"][1]["missed"] == 40 - count


def test_a_reason_that_few_students_met_shows_no_numbers():
    few = ReasonCount("unsafe", 7, 12.5, 4)
    shown = case_figures("C", ITEMS[:1], scores(20), np.arange(40.0), [few], floor=10)["reasons"][0]
    assert shown["students"] is shown["per_student"] is shown["surcharge"] is None


def test_reliability_over_cases_needs_students_who_concluded_all():
    totals = np.full((40, 2), 50.0)
    totals[5:, 1] = np.nan
    assert "at least 10 students" in across_figures(totals, ["A", "B"], floor=10)["hidden"]


def test_reliability_over_cases_is_alpha_of_the_case_totals():
    rng = np.random.default_rng(3)
    ability = rng.normal(60, 10, (200, 1))
    found = across_figures(ability + rng.normal(0, 10, (200, 3)), list("ABC"), floor=10)
    # Equal true and error variance in three parallel cases: Spearman-Brown of .5 gives .75.
    assert found["alpha"]["value"] == pytest.approx(0.75, abs=0.06)


# ---- what tutors set beside the computed marks


def beside(count: int, n: int = 40, raised: float = 6.0) -> tuple[np.ndarray, np.ndarray]:
    """Totals 0 to n - 1, the first ``count`` raised by a tutor."""
    totals = np.arange(float(n))
    return totals, np.where(totals < count, totals + raised, np.nan)


def test_adjusted_marks_are_counted_and_their_mean_stands_beside_the_computed():
    found = adjusted_figures(*beside(12), floor=10)
    # The first twelve are 0 to 11: mean 5.5, raised by 6; of all forty 19.5 + 12 * 6 / 40.
    assert found == {"bound": "", "n": 12, "mean": 11.5, "computed": 5.5, "mean_of_all": 21.3}


@pytest.mark.parametrize(
    ("count", "bound"),
    [(1, "fewer than 10"), (9, "fewer than 10"), (31, "all but fewer than 10"),
     (39, "all but fewer than 10")],
)  # fmt: skip
def test_few_adjusted_or_few_left_show_no_number(count, bound):
    found = adjusted_figures(*beside(count), floor=10)
    assert found.pop("bound") == bound
    assert set(found.values()) == {None}


@pytest.mark.parametrize(("count", "n"), [(0, 0), (10, 10), (30, 30), (40, 40)])
def test_none_enough_and_all_are_shown(count, n):
    found = adjusted_figures(*beside(count), floor=10)
    assert (found["n"], found["bound"]) == (n, "")
    assert (found["mean"] is None) == (count == 0)


@given(st.integers(10, 60), st.data(), st.integers(2, 10))
def test_no_mean_is_shown_that_fewer_than_the_floor_stand_behind(n, data, floor):
    count = data.draw(st.integers(0, n))
    found = adjusted_figures(*beside(count, n), floor=floor)
    if found["mean"] is not None:
        assert count >= floor
        assert n - count == 0 or n - count >= floor
    else:
        assert count < floor or 0 < n - count < floor
