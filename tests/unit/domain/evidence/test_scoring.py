"""Scores of stated probabilities against scikit-learn, tabled forecasts and their own laws."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.distance import jensenshannon
from sklearn.metrics import brier_score_loss, log_loss

from casebank.domain.evidence import (
    brier,
    calibration_bins,
    jensen_shannon,
    log_score,
    murphy,
    proper_score_against,
    quadratic_score,
)

SEEDS = st.integers(0, 2**32 - 1)
# Forty forecasts of .1 .4 .7 .9 of which 1 3 8 9 of ten came true.
P40 = np.repeat([0.1, 0.4, 0.7, 0.9], 10)
Y40 = np.concatenate([[1] * hits + [0] * (10 - hits) for hits in (1, 3, 8, 9)])
P12 = [0.05, 0.12, 0.18, 0.31, 0.38, 0.44, 0.52, 0.58, 0.69, 0.73, 0.85, 0.97]
Y12 = [0, 0, 0, 0, 1, 0, 1, 0, 1, 1, 1, 1]


def test_murphys_parts_of_forty_forecasts():
    parts = murphy(P40, Y40)
    assert round(parts.reliability, 6) == 0.005
    assert round(parts.resolution, 6) == 0.111875
    assert round(parts.uncertainty, 6) == 0.249375
    assert round(parts.brier, 6) == 0.1425
    assert parts.brier == pytest.approx(brier_score_loss(Y40, P40))


@given(SEEDS, st.integers(1, 60))
def test_murphys_parts_add_up_to_the_brier_score(seed, n):
    rng = np.random.default_rng(seed)
    p, y = rng.integers(0, 21, n) / 20, rng.integers(0, 2, n)
    parts = murphy(p, y)
    total = parts.reliability - parts.resolution + parts.uncertainty
    assert total == pytest.approx(parts.brier, abs=1e-12)


@given(SEEDS, st.integers(2, 6), st.integers(1, 30))
def test_brier_and_log_score_equal_scikit_learn(seed, h, n):
    rng = np.random.default_rng(seed)
    p, truth = rng.dirichlet(np.ones(h) * 3, size=n), rng.integers(0, h, n)
    labels = list(range(h))
    clip = 1e-9
    columns = {"y_proba": p} if h > 2 else {"y_proba": p[:, 1]}
    theirs = brier_score_loss(truth, **columns, labels=labels, scale_by_half=False)
    assert brier(p, truth) == pytest.approx(theirs)
    nats = log_loss(truth, p, labels=labels)
    assert log_score(p, truth, clip=clip) == pytest.approx(nats / math.log(2))


def test_log_score_of_forty_forecasts_is_0_65237_bits():
    both = np.column_stack([1 - P40, P40])
    assert round(log_score(both, Y40), 5) == 0.65237
    assert round(log_score(both, Y40) * math.log(2), 5) == 0.45219


def test_a_certain_error_costs_the_stated_clip_and_not_infinity():
    assert log_score([1.0, 0.0], 1) == pytest.approx(-math.log2(0.01))
    assert log_score([1.0, 0.0], 0) == 0.0
    assert brier([1.0, 0.0], 1) == 2.0


def test_truth_may_be_shared_by_two_hypotheses():
    assert brier([0.5, 0.5, 0.0], [0.5, 0.5, 0.0]) == 0.0
    assert log_score([0.5, 0.5, 0.0], [0.5, 0.5, 0.0]) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("p", "truth"),
    [([0.5, 0.4], 0), ([0.5, 0.5], 2), ([0.5, 0.5], 0.5), ([[0.5, 0.5]], [0, 1]), ([], 0)],
)
def test_forecasts_that_do_not_fit_their_truth_are_refused(p, truth):
    with pytest.raises(ValueError, match=r"sum|position|differential"):
        brier(p, truth)


@pytest.mark.parametrize(
    ("p", "y"), [([50], [1]), ([0.5], [2]), ([0.5, 0.5], [1]), ([], []), ([math.nan], [1])]
)
def test_forecasts_of_one_event_that_make_no_sense_are_refused(p, y):
    with pytest.raises(ValueError, match=r"percentages|neither|even|NaN"):
        murphy(p, y)


def test_calibration_bins_of_twelve_forecasts():
    bins = calibration_bins(P12, Y12, [0, 0.2, 0.4, 0.6, 0.8, 1])
    assert [b.count for b in bins] == [3, 2, 3, 2, 2]
    assert [b.observed for b in bins] == pytest.approx([0, 1 / 2, 1 / 3, 1, 1])
    # The binned parts of these twelve: REL and UNC + WBV - WBC - RES as tabled.
    share = np.array([b.count for b in bins]) / 12
    reliability = share @ (np.array([b.mean_forecast - b.observed for b in bins]) ** 2)
    resolution = share @ (np.array([b.observed - 0.5 for b in bins]) ** 2)
    assert murphy(P12, Y12).brier == pytest.approx(0.123550, abs=5e-7)
    within = 0.123550 - 0.002399 + 0.006944
    assert reliability - resolution + 0.25 == pytest.approx(within, abs=2e-6)


@given(SEEDS, st.integers(1, 50), st.integers(1, 12))
def test_every_forecast_is_in_one_bin(seed, n, k):
    rng = np.random.default_rng(seed)
    p = rng.integers(0, 11, n) / 10
    bins = calibration_bins(p, rng.integers(0, 2, n), k)
    assert sum(b.count for b in bins) == n
    for b in bins:
        assert b.low - 1e-12 <= b.mean_forecast <= b.high + 1e-12
        assert 0 <= b.ci_low <= b.observed <= b.ci_high <= 1


@pytest.mark.parametrize("edges", [0, [0, 1, 0.5], [0.1, 1], [0]])
def test_bins_without_sense_are_refused(edges):
    with pytest.raises(ValueError, match=r"bin|edges"):
        calibration_bins([0.5], [1], edges)


@given(SEEDS, st.integers(2, 6), st.integers(0, 5))
def test_whoever_states_the_supported_posterior_gets_all_marks(seed, h, truth):
    reference = np.random.default_rng(seed).dirichlet(np.ones(h))
    assert proper_score_against(reference, reference, truth % h) == pytest.approx(100)


@given(SEEDS, st.integers(2, 6))
def test_no_other_statement_expects_more_than_the_supported_posterior(seed, h):
    rng = np.random.default_rng(seed)
    reference, other = rng.dirichlet(np.ones(h)), rng.dirichlet(np.ones(h))
    marks = [proper_score_against(other, reference, truth) for truth in range(h)]
    assert all(0 <= mark <= 100 for mark in marks)
    assert reference @ marks <= 100
    if np.abs(reference - other).max() > 1e-3:
        assert reference @ marks < 100


@given(SEEDS, st.integers(2, 6))
def test_moving_towards_the_supported_posterior_never_expects_less(seed, h):
    rng = np.random.default_rng(seed)
    reference, far = rng.dirichlet(np.ones(h)), rng.dirichlet(np.ones(h))
    expected = [
        sum(
            r * proper_score_against((1 - t) * far + t * reference, reference, d)
            for d, r in enumerate(reference)
        )
        for t in (0, 0.25, 0.5, 0.75, 1)
    ]
    assert all(later >= earlier - 1e-9 for earlier, later in itertools.pairwise(expected))


def test_the_mark_by_hand():
    # Q(student) = 1 - (.25 + .25)/2 = .75; Q(reference) = 1 - (.04 + .04)/2 = .96; A = .79.
    # Jensen-Shannon of (.5, .5) and (.8, .2) in bits by scipy.
    divergence = jensenshannon([0.5, 0.5], [0.8, 0.2], base=2) ** 2
    expected = 50 * (0.79 + 1 - divergence)
    assert proper_score_against([0.5, 0.5], [0.8, 0.2], 0) == pytest.approx(expected)
    assert proper_score_against([0, 1], [1, 0], 0) == 0


def test_a_lucky_certainty_earns_nothing_beyond_what_the_posterior_scored():
    # The truth half is full but capped, so the mark falls by the divergence alone.
    certain, supported = [1.0, 0.0, 0.0], [0.3, 0.5, 0.2]
    divergence = jensenshannon(certain, supported, base=2) ** 2
    expected = 50 * (1 + 1 - divergence)
    assert proper_score_against(certain, supported, 0) == pytest.approx(expected)
    assert expected < 90


def test_two_true_hypotheses_share_the_truth():
    both = proper_score_against([0.5, 0.5, 0.0], [0.5, 0.5, 0.0], (0, 1))
    one = proper_score_against([1.0, 0.0, 0.0], [0.5, 0.5, 0.0], (0, 1))
    assert both == pytest.approx(100)
    assert one < both


@given(SEEDS, st.integers(2, 8))
def test_jensen_shannon_equals_scipy(seed, h):
    rng = np.random.default_rng(seed)
    p, q = rng.dirichlet(np.ones(h)), rng.dirichlet(np.ones(h))
    assert jensen_shannon(p, q) == pytest.approx(jensenshannon(p, q, base=2) ** 2, abs=1e-9)
    assert quadratic_score(p, p) == 1.0


@pytest.mark.parametrize("truth", [-1, 2, ()])
def test_a_truth_that_is_no_hypothesis_is_refused(truth):
    with pytest.raises(ValueError, match="truth"):
        proper_score_against([0.5, 0.5], [0.5, 0.5], truth)


def test_differentials_over_other_hypotheses_are_refused():
    with pytest.raises(ValueError, match="same hypotheses"):
        proper_score_against([0.5, 0.5], [0.2, 0.3, 0.5], 0)
