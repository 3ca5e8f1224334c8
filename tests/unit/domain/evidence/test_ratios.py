"""Likelihood ratios against published tables and scipy, and the intervals they carry."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats.contingency import relative_risk

from casebank.domain.evidence import (
    Ratio,
    likelihood_ratio_from_counts,
    posterior_interval,
    ratio_rows,
    sensitivity_specificity,
)
from casebank.domain.evidence.interval import Portion, log_ratio_draws_of_pair


@pytest.mark.parametrize(
    ("counts", "printed"),
    [
        # Sheth 1997, pallor present, borderline, absent (its intervals use another method).
        ((8, 55, 8, 247), (4.49,)),
        ((22, 55, 55, 247), (1.80,)),
        ((25, 55, 184, 247), (0.61,)),
        # Cook 1990, is the venous pressure low? judged low, normal, high.
        ((3, 7, 5, 40), (3.43, 1.05, 11.21)),
        ((4, 7, 22, 40), (1.04,)),
        ((0, 7, 13, 40), (0.0,)),
        # Cook 1990, is it high? judged high, normal, low.
        ((10, 21, 3, 26), (4.13, 1.30, 13.10)),
        ((10, 21, 16, 26), (0.77,)),
        ((1, 21, 7, 26), (0.18,)),
        # Gardezi 2018, general practitioners: positive, then negative.
        ((16, 36, 66, 215), (1.45, 0.95, 2.20)),
        ((20, 36, 149, 215), (0.80, 0.59, 1.09)),
        # Ultrasound J 2021;13:40, table 3, signs of an effusion: present, then absent.
        ((22, 50, 2, 18), (3.96, 1.03, 15.18)),
        ((28, 50, 16, 18), (0.63, 0.47, 0.85)),
        ((34, 50, 3, 18), (4.08, 1.43)),
        ((16, 50, 15, 18), (0.38, 0.24, 0.60)),
        ((47, 50, 15, 18), (1.13, 0.91, 1.40)),
        ((3, 50, 3, 18), (0.36, 0.08, 1.62)),
        ((9, 50, 1, 18), (3.24, 0.44, 23.81)),
        ((41, 50, 17, 18), (0.87, 0.73, 1.03)),
    ],
)
def test_ratio_and_interval_have_the_printed_digits(counts, printed):
    ratio = likelihood_ratio_from_counts(*counts)
    found = (ratio.value, ratio.ci_low, ratio.ci_high)[: len(printed)]
    assert tuple(round(x, 2) for x in found) == printed


@given(st.integers(1, 60), st.integers(1, 60), st.integers(0, 90), st.integers(0, 90))
def test_ratio_and_interval_equal_scipys_relative_risk(a, b, more_a, more_b):
    assume(more_a or more_b)
    m, k = a + more_a, b + more_b
    ours = likelihood_ratio_from_counts(a, m, b, k)
    theirs = relative_risk(a, m, b, k)
    low, high = theirs.confidence_interval(0.95)
    assert ours.value == pytest.approx(theirs.relative_risk)
    assert (ours.ci_low, ours.ci_high) == pytest.approx((low, high))


portions = st.tuples(st.integers(0, 30), st.integers(0, 30)).filter(any)
"""How many have the sign, and how many more have not; somebody has or has not."""


@given(portions, portions)
def test_every_interval_is_finite_and_holds_its_value(one, two):
    (a, more_a), (b, more_b) = one, two
    assume(a or b)
    ratio = likelihood_ratio_from_counts(a, a + more_a, b, b + more_b)
    assert 0 <= ratio.ci_low <= ratio.value <= ratio.ci_high < math.inf


def test_an_empty_cell_is_said_and_gets_half_a_person():
    never = likelihood_ratio_from_counts(0, 7, 13, 40)
    assert never.value == 0
    assert "half a person" in never.method
    assert never.ci_high == pytest.approx(relative_risk_of_halves(0.5, 8, 13.5, 41)[1])
    always = likelihood_ratio_from_counts(7, 10, 0, 10)
    assert always.value == pytest.approx((7.5 / 11) / (0.5 / 11))


def relative_risk_of_halves(a, m, b, k):
    # scipy takes whole counts only, so the rule is written out once more, in its other form.
    log = math.log(a * k / (b * m))
    half = 1.959963984540054 * math.sqrt((m - a) / (a * m) + (k - b) / (b * k))
    return math.exp(log - half), math.exp(log + half)


@pytest.mark.parametrize("counts", [(0, 5, 0, 5), (6, 5, 1, 5), (1, 0, 1, 5), (-1, 5, 1, 5)])
def test_impossible_counts_are_refused(counts):
    with pytest.raises(ValueError, match="count"):
        likelihood_ratio_from_counts(*counts)


@given(st.floats(0.02, 0.99), st.floats(0.02, 0.99))
def test_a_pair_of_ratios_returns_the_sensitivity_and_specificity_it_came_from(sens, spec):
    assume(sens + spec > 1.01)
    found = sensitivity_specificity(sens / (1 - spec), (1 - sens) / spec)
    assert found == pytest.approx((sens, spec), abs=1e-9)


@given(st.floats(1.001, 1e6), st.floats(0, 0.999))
def test_rows_from_ratios_are_probabilities_with_those_ratios(positive, negative):
    rows = ratio_rows([True, False, True], positive, negative)
    assert ((rows >= 0) & (rows <= 1)).all()
    assert rows.sum(axis=0) == pytest.approx([1, 1, 1])
    assert rows[0, 0] / rows[0, 1] == pytest.approx(positive, rel=1e-6)
    assert rows[1, 2] == pytest.approx(negative * rows[1, 1], rel=1e-6, abs=1e-9)


@pytest.mark.parametrize(
    ("positive", "negative"),
    [(0.8, 0.5), (1.0, 1.0), (3.0, 1.2), (3.0, 1.0), (0.5, 2.0), (3.0, -0.1), (math.inf, 0.1)],
)
def test_a_ratio_that_contradicts_its_pair_is_refused(positive, negative):
    with pytest.raises(ValueError, match=r"LR[+-]"):
        sensitivity_specificity(positive, negative)


def test_nan_is_refused_in_either_place():
    with pytest.raises(ValueError, match=r"LR\+"):
        sensitivity_specificity(math.nan, 0.1)
    with pytest.raises(ValueError, match="LR-"):
        sensitivity_specificity(3.0, math.nan)


@pytest.mark.parametrize("targets", [[True, True], [False, False]])
def test_ratios_need_targets_and_others(targets):
    with pytest.raises(ValueError, match="not all"):
        ratio_rows(targets, 3, 0.3)


COOK = Ratio(4.13, 1.30, 13.10)
GARDEZI = Ratio(1.45, 0.95, 2.20)


def test_drawn_interval_meets_the_closed_form():
    # The log odds are normal: logit(prior) + sum of ln LR, variance the sum of the variances.
    drawn = posterior_interval(0.3, [COOK, GARDEZI], seed=11, draws=200_000)
    spread = math.hypot(math.log(13.10 / 1.30) / 2, math.log(2.20 / 0.95) / 2)
    centre = math.log(0.3 / 0.7) + math.log(4.13 * 1.45)
    exact = [1 / (1 + math.exp(-(centre + s))) for s in (-spread, 0, spread)]
    assert [drawn.ci_low, drawn.value, drawn.ci_high] == pytest.approx(exact, abs=0.004)


@given(st.floats(0.01, 0.99), st.integers(0, 1000))
def test_the_interval_holds_the_posterior_and_repeats_with_its_seed(prior, seed):
    first = posterior_interval(prior, [COOK, GARDEZI], seed)
    assert first == posterior_interval(prior, [COOK, GARDEZI], seed)
    assert 0 < first.ci_low < first.value < first.ci_high < 1


def test_without_findings_the_interval_is_the_prior():
    alone = posterior_interval(0.2, [], seed=1)
    assert np.allclose([alone.ci_low, alone.value, alone.ci_high], 0.2)


@pytest.mark.parametrize(
    ("prior", "ratio", "draws"),
    [
        (0.0, COOK, 2000),
        (1.0, COOK, 2000),
        (0.3, Ratio(0, 0, 2), 2000),
        (0.3, Ratio(3, 4, 5), 2000),
        (0.3, Ratio(3, 2, math.inf), 2000),
        (0.3, COOK, 10),
    ],
)
def test_an_interval_that_cannot_be_drawn_is_refused(prior, ratio, draws):
    with pytest.raises(ValueError, match=r"prior|ratio|draws"):
        posterior_interval(prior, [ratio], seed=1, draws=draws)


def test_a_pair_drawn_at_its_medians_gives_its_two_ratios():
    pair = Portion(0.94, 0.84, 0.97), Portion(0.72, 0.69, 0.75)
    still = np.zeros((1, 2))
    # Cooke et al., J Fam Pract 2006, irregular pulse: sensitivity 94 %, specificity 72 %.
    present, absent = (float(np.exp(log_ratio_draws_of_pair(*pair, x, still))[0]) for x in (1, 0))
    assert (present, absent) == pytest.approx((0.94 / 0.28, 0.06 / 0.72))


def test_a_pair_is_drawn_with_the_interval_it_was_given():
    noise = np.random.default_rng(5).standard_normal((40_000, 2))
    noise[:, 1] = 0.0
    sensitivity = Portion(0.70, 0.60, 0.786)
    logs = log_ratio_draws_of_pair(sensitivity, Portion(0.9, 0.8, 0.95), True, noise)
    drawn = np.quantile(np.exp(logs) * 0.1, [0.025, 0.5, 0.975])
    assert drawn == pytest.approx([0.60, 0.70, 0.786], abs=0.005)


@pytest.mark.parametrize("wrong", [Portion(1.0, 0.9, 1.0), Portion(0.5, 0.6, 0.7)])
def test_a_share_that_cannot_be_drawn_is_refused(wrong):
    with pytest.raises(ValueError, match="0 < lower <= value <= upper < 1"):
        log_ratio_draws_of_pair(wrong, Portion(0.9, 0.8, 0.95), True, np.zeros((1, 2)))
