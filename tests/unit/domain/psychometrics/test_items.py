"""Facility, discrimination and D against LSAT6, Brennan's table and general libraries."""

import time
from functools import partial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from casebank.domain.psychometrics import discrimination, facility, newcombe, upper_lower_27, wilson
from tests.factories.published import BRENNAN, LSAT6

SEEDS = st.integers(0, 2**32 - 1)


def values(estimates):
    return [e.value for e in estimates]


def digits(estimates, places):
    return [None if e.value is None else round(e.value, places) for e in estimates]


def test_the_pattern_counts_make_a_thousand_persons():
    assert LSAT6.shape == (1000, 5)


def test_lsat6_facility():
    # R psych and ltm `descript` on the same data.
    assert digits(facility(LSAT6), 3) == [0.924, 0.709, 0.553, 0.763, 0.870]


def test_lsat6_corrected_item_total_correlations():
    # R psych r.drop and ltm `descript`.
    assert digits(discrimination(LSAT6), 4) == [0.1128, 0.1532, 0.1728, 0.1444, 0.1216]


def test_lsat6_upper_lower_index_with_shared_ties():
    # Mean over random orders of tied persons; a sort in file order gives .78 for item 2.
    assert digits(upper_lower_27(LSAT6), 4) == [0.1966, 0.6315, 0.8109, 0.5370, 0.3203]


def test_brennan_upper_lower_index_of_items_2_4_and_7():
    found = digits(upper_lower_27(BRENNAN), 4)
    assert [found[1], found[3], found[6]] == [0.3704, 0.7407, 1.0]


def test_brennan_item_1_that_all_pass_is_undefined_and_item_9_is_0_8299():
    # scipy pearsonr.
    found = discrimination(BRENNAN)
    assert (found[0].status, found[0].value) == ("undefined", None)
    assert "same score" in found[0].reason
    assert round(found[8].value, 4) == 0.8299


def test_upper_lower_index_is_the_mean_over_random_orders_of_the_tied():
    rng = np.random.default_rng(5)
    x = rng.integers(0, 2, (40, 6))
    runs = []
    for _ in range(4000):
        order = np.lexsort((rng.random(40), x.sum(axis=1)))
        weights = np.clip(0.27 * 40 - np.arange(40), 0, 1)
        runs.append(weights @ x[order[::-1]] - weights @ x[order])
    expected = np.mean(runs, axis=0) / (0.27 * 40)
    assert values(upper_lower_27(x)) == pytest.approx(expected, abs=0.01)


@given(SEEDS)
def test_the_order_of_rows_changes_no_statistic(seed):
    rng = np.random.default_rng(seed)
    x = rng.integers(0, 2, (30, 5))
    mixed = rng.permutation(x)
    for statistic in (facility, discrimination, upper_lower_27):
        for a, b in zip(statistic(x), statistic(mixed), strict=True):
            assert a.status == b.status
            assert a.value == pytest.approx(b.value, abs=1e-9)


@given(SEEDS, st.integers(4, 40), st.integers(2, 8))
def test_discrimination_and_its_interval_equal_scipy(seed, n, k):
    x = np.random.default_rng(seed).normal(size=(n, k))
    for j, found in enumerate(discrimination(x)):
        rest = x.sum(axis=1) - x[:, j]
        theirs = stats.pearsonr(x[:, j], rest)
        interval = theirs.confidence_interval(0.95)
        assert found.value == pytest.approx(theirs.statistic, abs=1e-9)
        assert (found.ci_low, found.ci_high) == pytest.approx((interval.low, interval.high))


@given(SEEDS, st.integers(1, 60))
def test_right_wrong_facility_carries_scipys_wilson_interval(seed, n):
    x = np.random.default_rng(seed).integers(0, 2, (n, 3))
    for column, found in zip(x.T, facility(x), strict=True):
        theirs = stats.binomtest(int(column.sum()), n).proportion_ci(method="wilson")
        assert found.value == pytest.approx(column.mean())
        assert (found.ci_low, found.ci_high) == pytest.approx((theirs.low, theirs.high), abs=1e-9)


def test_wilson_and_newcombe_to_their_printed_digits():
    # statsmodels proportion_confint; Newcombe, Stat Med 1998: 56/70 against 48/80.
    assert [round(x, 3) for x in wilson(0, 20)] == [0.0, 0.161]
    assert [round(x, 3) for x in wilson(8, 20)] == [0.219, 0.613]
    assert [round(x, 4) for x in newcombe(56, 70, 48, 80)] == [0.0524, 0.3339]
    with pytest.raises(ValueError, match="within the group"):
        wilson(3, 2)


def test_scores_out_of_ten_get_a_t_interval_inside_the_scale():
    marks = np.array([[2.0], [4.0], [9.0], [10.0]])
    found = facility(marks, 10)[0]
    theirs = stats.t.interval(0.95, 3, loc=0.625, scale=stats.sem(marks[:, 0] / 10))
    assert found.value == pytest.approx(0.625)
    assert (found.ci_low, found.ci_high) == pytest.approx((theirs[0], 1.0))


def test_an_item_not_administered_is_missing_and_not_wrong():
    x = [[1.0, np.nan], [0.0, np.nan], [1.0, 1.0]]
    first, second = facility(x)
    assert (first.value, first.n_used) == (pytest.approx(2 / 3), 3)
    assert (second.value, second.n_used) == (1.0, 1)
    nobody = facility([[np.nan], [np.nan]])[0]
    assert (nobody.status, nobody.value, nobody.n_used) == ("undefined", None, 0)


@pytest.mark.parametrize("x", [np.zeros((0, 3)), np.ones((1, 3)), np.ones((9, 1)), np.ones((9, 3))])
def test_where_nothing_differs_the_statistics_are_undefined_in_words(x):
    for found in (*discrimination(x), *upper_lower_27(x)):
        assert found.status == "undefined"
        assert found.reason


def test_a_perfect_correlation_has_no_width():
    found = discrimination([[0, 0], [1, 1], [2, 2], [3, 3]])[0]
    assert found.value == pytest.approx(1)
    assert found.ci_low == pytest.approx(1)


@pytest.mark.parametrize("x", [[[2.0]], [[-1.0]], [[np.inf]], [1.0], [["a"]]])
def test_scores_outside_their_scale_or_shape_are_refused(x):
    with pytest.raises(ValueError, match=r"maxima|infinity|learners x items|numbers"):
        facility(x)


def test_two_thousand_learners_on_sixty_items_cost_few_times_what_their_correlations_do():
    """A ratio within the run: a machine that is busy is slow for both."""
    x = np.random.default_rng(0).integers(0, 2, (2000, 60))
    floor = _least_time(partial(np.corrcoef, x, rowvar=False))
    for statistic in (facility, discrimination, upper_lower_27):
        assert _least_time(partial(statistic, x)) < 20 * floor


def _least_time(work):
    times = []
    for _ in range(10):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)
