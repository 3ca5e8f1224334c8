"""Alpha and its relatives against LSAT6, Brennan's table and their own definitions."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from casebank.domain.psychometrics import (
    alpha,
    alpha_if_deleted,
    conditional_error,
    g_study,
    kr20,
    kr21,
    lengthening,
    spearman_brown,
    standard_error_of_measurement,
)
from tests.factories.published import BRENNAN, LSAT6

SEEDS = st.integers(0, 2**32 - 1)


def rounded(estimate, places=4):
    return tuple(round(x, places) for x in (estimate.value, estimate.ci_low, estimate.ci_high))


def test_lsat6_alpha_with_feldts_interval():
    # pingouin cronbach_alpha and psych feldt.
    assert rounded(alpha(LSAT6)) == (0.2950, 0.2235, 0.3618)


def test_brennan_alpha_with_feldts_interval():
    assert rounded(alpha(BRENNAN)) == (0.8445, 0.6509, 0.9543)


def test_brennan_kr20_is_0_844_as_brennan_2001_prints():
    assert round(kr20(BRENNAN).value, 3) == 0.844


def test_kr21_is_a_lower_bound_of_kr20():
    assert round(kr21(LSAT6).value, 4) == 0.1964
    assert round(kr21(BRENNAN).value, 4) == 0.7245
    assert kr20(LSAT6).value == pytest.approx(alpha(LSAT6).value)


def test_lsat6_alpha_if_an_item_is_deleted():
    # ltm `descript` and psych.
    found = [round(e.value, 4) for e in alpha_if_deleted(LSAT6)]
    assert found == [0.2754, 0.2376, 0.2168, 0.2459, 0.2663]


def test_brennan_alpha_is_highest_without_item_3_and_lowest_without_9_or_10():
    found = [round(e.value, 4) for e in alpha_if_deleted(BRENNAN)]
    assert max(found) == found[2] == 0.8558
    assert min(found) == found[8] == found[9] == 0.8051


def test_standard_error_of_measurement():
    assert round(standard_error_of_measurement(LSAT6).value, 4) == 0.8691
    assert round(standard_error_of_measurement(BRENNAN).value, 4) == 1.2338
    found = standard_error_of_measurement(LSAT6)
    assert found.ci_low < found.value < found.ci_high


def test_conditional_error_of_7_of_13_is_1_871():
    assert round(conditional_error(7, 13), 3) == 1.871
    assert conditional_error(0, 13) == 0


def test_a_reliability_of_66_needs_2_06_times_the_stations_for_80():
    # Brannick et al., Med Educ 2011: mean alpha .66 across stations.
    assert round(lengthening(0.66, 0.80), 2) == 2.06
    assert spearman_brown(0.66, lengthening(0.66, 0.80)) == pytest.approx(0.80)


def test_negative_alpha_is_kept_and_explained():
    # pingouin gives -4.0 for these five rows.
    found = alpha([[1, 0], [0, 1], [1, 0], [0, 1], [1, 1]])
    assert found.value == pytest.approx(-4.0)
    assert "disagree" in found.reason


@given(SEEDS, st.integers(3, 30), st.integers(3, 8))
def test_alpha_without_an_item_is_alpha_of_the_others(seed, n, k):
    x = np.random.default_rng(seed).normal(size=(n, k))
    for j, found in enumerate(alpha_if_deleted(x)):
        others = alpha(np.delete(x, j, axis=1))
        assert found.value == pytest.approx(others.value, rel=1e-6, abs=1e-9)
        assert (found.n_used, found.k_used) == (n, k - 1)
        assert found.ci_low == pytest.approx(others.ci_low, rel=1e-6, abs=1e-9)


@given(SEEDS, st.integers(3, 30), st.integers(2, 8))
def test_alpha_is_the_ratio_of_variances_and_the_generalizability_coefficient(seed, n, k):
    rng = np.random.default_rng(seed)
    x = rng.normal(size=(n, k)) + rng.normal(size=(n, 1))
    expected = k / (k - 1) * (1 - x.var(axis=0).sum() / x.sum(axis=1).var())
    found = alpha(x)
    assert found.value == pytest.approx(expected, rel=1e-9)
    df, error_df = n - 1, (n - 1) * (k - 1)
    limits = [1 - (1 - expected) * stats.f.ppf(p, df, error_df) for p in (0.975, 0.025)]
    assert (found.ci_low, found.ci_high) == pytest.approx(limits, rel=1e-6)
    g = g_study(x).generalizability
    if g.value is not None:
        assert g.value == pytest.approx(expected, rel=1e-6, abs=1e-9)


@given(SEEDS, st.floats(0.1, 10), st.floats(-5, 5))
def test_alpha_does_not_change_with_scale_or_origin(seed, scale, shift):
    x = np.random.default_rng(seed).normal(size=(12, 4))
    assert alpha(x * scale + shift).value == pytest.approx(alpha(x).value, rel=1e-6, abs=1e-9)


def test_learners_with_a_missing_item_are_left_out_and_counted():
    holed = LSAT6.astype(float)
    holed[:50, 2] = np.nan
    assert alpha(holed).n_used == 950
    assert alpha(holed).value == pytest.approx(alpha(LSAT6[50:]).value)


@pytest.mark.parametrize(
    "x", [np.zeros((0, 4)), np.ones((1, 4)), np.ones((5, 1)), np.ones((5, 4)), [[1, 0], [0, 1]]]
)
def test_alpha_is_undefined_in_words_where_totals_do_not_differ(x):
    for found in (alpha(x), standard_error_of_measurement(x)):
        assert (found.status, found.value) == ("undefined", None)
        assert found.reason
    assert all(e.status == "undefined" for e in alpha_if_deleted(x))
    assert kr21(x).status == "undefined"


def test_constant_fractional_scores_do_not_pass_off_rounding_as_variance():
    assert alpha(np.full((7, 3), 0.1)).status == "undefined"


def test_kuder_richardson_refuses_scores_that_are_not_right_or_wrong():
    for formula in (kr20, kr21):
        with pytest.raises(ValueError, match="use alpha"):
            formula([[1, 2], [0, 1]])


@pytest.mark.parametrize(
    "refused",
    [
        lambda: conditional_error(14, 13),
        lambda: conditional_error(1, 1),
        lambda: spearman_brown(0.5, 0),
        lambda: spearman_brown(-0.9, 3),
        lambda: lengthening(0, 0.8),
        lambda: lengthening(0.6, 1),
    ],
)
def test_formulas_refuse_what_has_no_answer(refused):
    with pytest.raises(ValueError, match="give"):
        refused()
