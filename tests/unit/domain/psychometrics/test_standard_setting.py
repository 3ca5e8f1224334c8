"""Borderline regression against a worked table and scipy."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from casebank.domain.psychometrics import borderline_bootstrap, borderline_regression

SEEDS = st.integers(0, 2**32 - 1)
# Twenty-four fictional candidates: global grade 0-4 and checklist of 30; borderline is 1.
GRADES = [
    int(g)
    for g in [
        "0",
        "0",
        "1",
        "1",
        "1",
        "1",
        "1",
        "2",
        "2",
        "2",
        "2",
        "2",
        "2",
        "2",
        "2",
        "3",
        "3",
        "3",
        "3",
        "3",
        "3",
        "4",
        "4",
        "4",
    ]
]
CHECKLIST = [
    int(c)
    for c in [
        "9",
        "12",
        "13",
        "15",
        "14",
        "17",
        "12",
        "16",
        "18",
        "19",
        "17",
        "20",
        "15",
        "18",
        "21",
        "20",
        "22",
        "23",
        "19",
        "24",
        "21",
        "25",
        "27",
        "24",
    ]
]


def test_twenty_four_candidates():
    # scipy linregress and statsmodels OLS.
    found = borderline_regression(CHECKLIST, GRADES)
    assert round(found.cut.value, 6) == 14.228571
    assert (round(found.slope, 6), round(found.intercept, 6)) == (3.685714, 10.542857)
    assert round(found.r_squared, 6) == 0.856680
    assert round(found.standard_error, 4) == 0.5124
    assert (round(found.cut.ci_low, 3), round(found.cut.ci_high, 3)) == (13.166, 15.291)


def test_bootstrap_of_twenty_four_candidates():
    # 10,000 resamples of pairs: 13.26 to 15.21, equal here to a tenth of the standard error.
    found = borderline_bootstrap(CHECKLIST, GRADES, seed=4, draws=10_000)
    assert (found.ci_low, found.ci_high) == pytest.approx((13.26, 15.21), abs=0.05)
    assert found == borderline_bootstrap(CHECKLIST, GRADES, seed=4, draws=10_000)


@given(SEEDS, st.integers(4, 60), st.floats(0, 4))
def test_line_equals_scipy(seed, n, borderline):
    rng = np.random.default_rng(seed)
    x = rng.integers(0, 5, n).astype(float)
    x[:2] = 0.0, 4.0
    y = 5 * x + rng.normal(0, 2, n)
    found, theirs = borderline_regression(y, x, borderline), stats.linregress(x, y)
    assert (found.slope, found.intercept) == pytest.approx(
        (theirs.slope, theirs.intercept), abs=1e-8
    )
    assert found.r_squared == pytest.approx(theirs.rvalue**2)
    # The error at grade 0 is the intercept's own: move the borderline to the origin.
    at_origin = stats.linregress(x - borderline, y)
    assert found.standard_error == pytest.approx(at_origin.intercept_stderr)
    assert found.cut.value == pytest.approx(at_origin.intercept, abs=1e-8)


def test_the_bootstrap_equals_a_loop_over_the_same_resamples():
    rng = np.random.default_rng(9)
    weights = rng.multinomial(24, np.full(24, 1 / 24), size=500)
    x, y = np.array(GRADES, float), np.array(CHECKLIST, float)
    cuts = []
    for w in weights:
        line = stats.linregress(np.repeat(x, w), np.repeat(y, w))
        cuts.append(line.intercept + line.slope)
    found = borderline_bootstrap(y, x, seed=9, draws=500)
    assert (found.ci_low, found.ci_high) == pytest.approx(tuple(np.quantile(cuts, [0.025, 0.975])))


def test_resamples_of_a_single_grade_are_dropped_and_counted():
    found = borderline_bootstrap([10, 12, 20], [1, 1, 3], seed=1, draws=1000)
    assert "resamples held a single grade" in found.reason


@pytest.mark.parametrize(("y", "x"), [([], []), ([1, 2], [0, 1]), ([1, 2, 3, 4], [2, 2, 2, 2])])
def test_one_grade_or_two_candidates_leave_it_undefined(y, x):
    assert borderline_regression(y, x).cut.status == "undefined"
    assert borderline_bootstrap(y, x, seed=1).status == "undefined"


def test_no_pass_mark_where_better_grades_go_with_lower_scores():
    found = borderline_regression([9, 8, 7, 3], [0, 1, 2, 3])
    assert found.cut.status == "not_estimable"
    assert found.cut.value is None
    assert found.slope < 0


def test_candidates_without_a_grade_are_left_out():
    found = borderline_regression([*CHECKLIST, 30.0], [*GRADES, np.nan])
    assert found.cut.n_used == 24
    assert round(found.cut.value, 6) == 14.228571
