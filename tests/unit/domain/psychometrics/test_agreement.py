"""Kappa, intraclass correlation and tau against their papers, scikit-learn and scipy."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from sklearn.metrics import cohen_kappa_score

from casebank.domain.psychometrics import intraclass, kappa, kappa_from_table, kendall_tau

SEEDS = st.integers(0, 2**32 - 1)
# Cohen, Psychol Bull 1968: proportions of 200 and the weights of his example.
COHEN = np.array([[0.44, 0.07, 0.09], [0.05, 0.20, 0.05], [0.01, 0.03, 0.06]]) * 200
COHEN_WEIGHTS = [[0, 1, 3], [1, 0, 6], [3, 6, 0]]
# Shrout & Fleiss, Psychol Bull 1979: six targets, four judges.
SHROUT_FLEISS = np.array(
    [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]]
)


def test_cohens_own_example():
    assert round(kappa_from_table(COHEN).value, 3) == 0.492
    assert round(kappa_from_table(COHEN, COHEN_WEIGHTS).value, 3) == 0.348


def test_cohens_example_by_libraries():
    # scikit-learn, statsmodels and R psych on the same table.
    assert round(kappa_from_table(COHEN).value, 4) == 0.4915
    assert round(kappa_from_table(COHEN, COHEN_WEIGHTS).value, 4) == 0.3478
    assert round(kappa_from_table(COHEN, "linear").value, 4) == 0.4737
    assert round(kappa_from_table(COHEN, "quadratic").value, 4) == 0.4545
    plain = kappa_from_table(COHEN)
    assert round((plain.ci_high - plain.value) / 1.959964, 4) == 0.0510


@given(
    SEEDS, st.integers(2, 5), st.integers(2, 60), st.sampled_from(["none", "linear", "quadratic"])
)
def test_kappa_equals_scikit_learn(seed, c, n, weights):
    rng = np.random.default_rng(seed)
    first, second = rng.integers(0, c, n).tolist(), rng.integers(0, c, n).tolist()
    found = kappa(first, second, list(range(c)), weights)
    if found.value is None:
        assert len({*first, *second}) == 1
        return
    named = None if weights == "none" else weights
    theirs = cohen_kappa_score(first, second, labels=list(range(c)), weights=named)
    assert found.value == pytest.approx(theirs, abs=1e-9)
    assert found.ci_low <= found.value <= found.ci_high


def test_the_error_of_kappa_agrees_with_resampling():
    rng = np.random.default_rng(2)
    p = COHEN.ravel() / 200
    drawn = [
        kappa_from_table(rng.multinomial(200, p).reshape(3, 3), "linear").value for _ in range(3000)
    ]
    found = kappa_from_table(COHEN, "linear")
    assert (found.ci_high - found.ci_low) / (2 * 1.96) == pytest.approx(np.std(drawn), rel=0.08)


def test_one_category_only_is_undefined_and_an_unused_grade_is_kept():
    assert kappa(["a"] * 5, ["a"] * 5, ["a", "b"]).status == "undefined"
    assert kappa([], [], ["a", "b"]).status == "undefined"
    first, second = [0, 0, 2, 2, 0], [0, 2, 2, 2, 0]
    with_unused = kappa(first, second, [0, 1, 2], "quadratic").value
    assert with_unused == pytest.approx(kappa(first, second, [0, 2]).value)


@pytest.mark.parametrize(
    "refused",
    [
        lambda: kappa([1], [1, 2], [1, 2]),
        lambda: kappa([1], [3], [1, 2]),
        lambda: kappa_from_table([[1, 2, 3]]),
        lambda: kappa_from_table([[1, -1], [0, 1]]),
        lambda: kappa_from_table([[1, 1], [0, 1]], "cubic"),
        lambda: kappa_from_table([[1, 1], [0, 1]], [[1, 1], [1, 0]]),
    ],
)
def test_ratings_that_do_not_fit_are_refused(refused):
    with pytest.raises(ValueError, match=r"rated|categories|square|weighting|diagonal"):
        refused()


@pytest.mark.parametrize(
    ("form", "printed", "value", "low", "high"),
    [
        # Table 4 of the paper (from memory); value and limits by R psych `ICC` and pingouin.
        ("1,1", 0.17, 0.1657, -0.133, 0.723),
        ("2,1", 0.29, 0.2898, 0.019, 0.761),
        ("3,1", 0.71, 0.7148, 0.342, 0.946),
        ("1,k", 0.44, 0.4428, -0.884, 0.912),
        ("2,k", 0.62, 0.6201, 0.071, 0.927),
        ("3,k", 0.91, 0.9093, 0.676, 0.986),
    ],
)
def test_six_targets_and_four_judges(form, printed, value, low, high):
    found = intraclass(SHROUT_FLEISS, form)
    assert round(found.value, 2) == printed
    assert round(found.value, 4) == value
    assert (round(found.ci_low, 3), round(found.ci_high, 3)) == (low, high)


@given(SEEDS, st.integers(3, 12), st.integers(2, 6))
def test_each_form_lies_within_its_limits_and_consistency_is_at_least_agreement(seed, n, k):
    rng = np.random.default_rng(seed)
    x = rng.normal(size=(n, k)) + 2 * rng.normal(size=(n, 1)) + rng.normal(size=(1, k))
    for form in ("1,1", "2,1", "3,1"):
        single = intraclass(x, form)
        if single.ci_low is None:
            assert single.value < 0
            assert "no interval" in single.method
        else:
            assert single.ci_low - 1e-9 <= single.value <= single.ci_high + 1e-9
    shift = x + 100 * np.arange(k)
    assert intraclass(shift, "3,1").value == pytest.approx(intraclass(x, "3,1").value)
    assert abs(intraclass(shift, "2,1").value) < abs(intraclass(shift, "3,1").value) + 1e-9


def test_raters_who_agree_in_everything_give_one_and_equal_ratings_nothing():
    same = np.array([[1, 1], [2, 2], [5, 5]])
    for form in ("1,1", "2,1", "3,k"):
        assert intraclass(same, form).value == pytest.approx(1)
    assert intraclass(np.full((4, 3), 2.0)).status == "undefined"
    assert intraclass([[1.0, 2.0]]).status == "undefined"


def test_hollander_and_wolfe_tau():
    # Example of nine pairs (from memory): T = 26 of 36, tau .4444; R cor.test and scipy agree.
    x = [44.4, 45.9, 41.9, 53.3, 44.7, 44.1, 50.7, 45.2, 60.1]
    y = [2.6, 3.1, 2.5, 5.0, 3.6, 4.0, 5.2, 2.8, 3.8]
    found = kendall_tau(x, y)
    assert round(found.value, 4) == 0.4444
    assert found.n_used == 9


def test_scipys_example_with_ties():
    found = kendall_tau([12, 2, 1, 12, 2], [1, 4, 7, 1, 0])
    assert round(found.value, 4) == -0.4714


@given(SEEDS, st.integers(2, 25))
def test_tau_equals_scipy(seed, n):
    rng = np.random.default_rng(seed)
    x, y = rng.integers(0, 6, n), rng.integers(0, 6, n)
    found = kendall_tau(x, y)
    theirs = stats.kendalltau(x, y).statistic
    if found.value is None:
        assert np.isnan(theirs)
    else:
        assert found.value == pytest.approx(theirs, abs=1e-12)
