"""Expected information against general-purpose libraries, published gains and its own laws."""

import time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from sklearn.metrics import mutual_info_score

from casebank.domain.evidence import (
    entropy,
    expected_information,
    expected_information_many,
    most_useful,
    posterior,
)

SEEDS = st.integers(0, 2**32 - 1)


def random_case(seed, h, o):
    rng = np.random.default_rng(seed)
    return rng.dirichlet(np.ones(h) * 0.5), rng.dirichlet(np.ones(o) * 0.5, size=h).T


def test_a_sign_of_sens_80_spec_90_at_30_percent_gives_0_3483_bits():
    table = [[0.8, 0.1], [0.2, 0.9]]
    assert entropy([0.3, 0.7]) == pytest.approx(0.8813, abs=5e-5)
    assert posterior([0.3, 0.7], table[0])[0] == pytest.approx(0.7742, abs=5e-5)
    assert posterior([0.3, 0.7], table[1])[0] == pytest.approx(0.0870, abs=5e-5)
    assert round(expected_information([0.3, 0.7], table), 5) == 0.34830
    # The same as exact counts of 1,000 persons in scikit-learn.
    counts = np.array([[240, 60], [70, 630]])
    nats = mutual_info_score(None, None, contingency=counts)
    assert expected_information([0.3, 0.7], table) == pytest.approx(nats / np.log(2), abs=1e-12)


@pytest.mark.parametrize(
    ("yes", "no", "published", "digits"),
    [
        # Quinlan, Machine Learning 1986: play tennis, 9 yes and 5 no (values from memory). The
        # paper subtracts rounded entropies; the unrounded gains are .2467 .1518 .0481 .0292.
        ([2, 4, 3], [3, 0, 2], 0.2467, 4),  # outlook
        ([3, 6], [4, 1], 0.1518, 4),  # humidity
        ([6, 3], [2, 3], 0.0481, 4),  # wind
        ([2, 4, 3], [2, 2, 1], 0.0292, 4),  # temperature
    ],
)
def test_play_tennis_gains(yes, no, published, digits):
    table = np.array([np.array(yes) / 9, np.array(no) / 5]).T
    gain = expected_information([9 / 14, 5 / 14], table)
    assert round(gain, digits) == published
    nats = mutual_info_score(None, None, contingency=np.array([yes, no]))
    assert gain == pytest.approx(nats / np.log(2), abs=1e-12)


def test_play_tennis_entropy_is_0_940():
    assert round(entropy([9 / 14, 5 / 14]), 3) == 0.940


@given(SEEDS, st.integers(2, 9))
def test_entropy_equals_scipy(seed, h):
    p = np.random.default_rng(seed).dirichlet(np.ones(h) * 0.3)
    assert entropy(p) == pytest.approx(stats.entropy(p, base=2), abs=1e-9)


@given(SEEDS, st.integers(2, 8), st.integers(1, 6))
def test_expected_information_is_prior_entropy_less_mean_posterior_entropy(seed, h, o):
    prior, table = random_case(seed, h, o)
    of_outcome = table @ prior
    left = sum(
        p * stats.entropy(posterior(prior, row), base=2)
        for p, row in zip(of_outcome, table, strict=True)
        if p > 0
    )
    expected = stats.entropy(prior, base=2) - left
    assert expected_information(prior, table) == pytest.approx(expected, abs=1e-9)


@given(SEEDS, st.integers(2, 8), st.integers(1, 6))
def test_expected_information_lies_between_zero_and_the_entropy(seed, h, o):
    prior, table = random_case(seed, h, o)
    bits = expected_information(prior, table)
    assert 0 <= bits <= entropy(prior) + 1e-12


@given(SEEDS, st.integers(2, 6), st.integers(2, 5))
def test_merging_two_outcomes_never_adds_information(seed, h, o):
    prior, table = random_case(seed, h, o)
    merged = np.vstack([table[:1] + table[1:2], table[2:]])
    assert expected_information(prior, merged) <= expected_information(prior, table) + 1e-12


def test_a_step_that_tells_nothing_gives_exactly_nothing():
    assert expected_information([0.3, 0.3, 0.4], [[0.2] * 3, [0.8] * 3]) == 0.0
    assert expected_information([1.0, 0.0], [[0.9, 0.1], [0.1, 0.9]]) == 0.0


def test_a_step_that_settles_everything_gives_the_whole_entropy():
    prior = [0.2, 0.3, 0.5]
    assert expected_information(prior, np.eye(3)) == pytest.approx(entropy(prior))


@given(SEEDS, st.integers(2, 6))
def test_many_steps_at_once_equal_one_at_a_time_with_padding(seed, h):
    rng = np.random.default_rng(seed)
    prior, sizes = rng.dirichlet(np.ones(h)), rng.integers(1, 6, size=7)
    singles = [rng.dirichlet(np.ones(o), size=h).T for o in sizes]
    padded = np.zeros((7, 6, h))
    for i, table in enumerate(singles):
        padded[i, : len(table)] = table
    one_by_one = [expected_information(prior, table) for table in singles]
    assert expected_information_many(prior, padded) == pytest.approx(one_by_one, abs=1e-12)


def test_a_catalogue_of_400_steps_takes_under_five_milliseconds():
    rng = np.random.default_rng(1)
    prior = rng.dirichlet(np.ones(8))
    tables = rng.dirichlet(np.ones(5), size=(400, 8)).transpose(0, 2, 1)
    times = []
    for _ in range(25):
        start = time.perf_counter()
        expected_information_many(prior, tables)
        times.append(time.perf_counter() - start)
    assert min(times) < 0.005


def test_steps_are_ranked_by_bits_for_their_price():
    sharp, blunt, idle = [[0.9, 0.1], [0.1, 0.9]], [[0.7, 0.3], [0.3, 0.7]], [[0.5, 0.5]] * 2
    ranked = most_useful([0.5, 0.5], [sharp, blunt, idle], [10.0, 1.0, 1.0])
    assert [r.index for r in ranked] == [1, 0, 2]
    assert ranked[1].per_price == pytest.approx(ranked[1].information / 10)
    same = most_useful([0.5, 0.5], [idle, idle], [3.0, 2.0])
    assert [r.index for r in same] == [1, 0]


@pytest.mark.parametrize("prices", [[1.0], [0.0, 1.0], [-1.0, 1.0], [np.nan, 1.0]])
def test_a_price_that_is_missing_or_not_positive_is_refused(prices):
    with pytest.raises(ValueError, match="price"):
        most_useful([0.5, 0.5], [[[1, 1]], [[1, 1]]], prices)


@pytest.mark.parametrize(
    ("prior", "table", "words"),
    [
        ([0.5, 0.5], [[0.8, 0.1], [0.1, 0.9]], "sums to 0.9, not 1"),
        ([0.5, 0.5], [[0.8, 0.1, 0.1]], "outcomes x 2 hypotheses"),
        ([0.5, 0.5], [[1.2, 1.0], [-0.2, 0.0]], "negative"),
        ([0.5, 0.4], [[1, 1]], "not 1"),
        ([0.5, 0.5], [[np.nan, 1]], "NaN"),
    ],
)
def test_an_impossible_table_is_refused_in_words(prior, table, words):
    with pytest.raises(ValueError, match=words):
        expected_information(prior, table)
