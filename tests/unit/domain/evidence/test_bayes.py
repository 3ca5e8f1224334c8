"""The posterior against published examples and algebra."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.evidence import posterior

SEEDS = st.integers(0, 2**32 - 1)


def post_test(prior, ratio):
    return float(posterior([prior, 1 - prior], [[ratio, 1.0]])[0])


@pytest.mark.parametrize(
    ("prior", "ratio", "printed", "digits"),
    [
        # Marchello 2019: normal vitals and lungs leave pneumonia at 0.4 %.
        (0.04, 0.10, 0.004, 3),
        # Gigerenzer's mammogram: prior 0.8 %, sens 90, false positives 7: about 9 %.
        (0.008, 0.90 / 0.07, 0.09, 2),
        # Eddy 1982; Gigerenzer & Hoffrage 1995: 7.8 % (from memory, recomputed).
        (0.01, 0.80 / 0.096, 0.078, 3),
        # Goldstein 2005 ratios of stroke signs at a prior of 10 %: 37.9 % and 4.15 %.
        (0.10, 5.5, 0.379, 3),
        (0.10, 0.39, 0.0415, 4),
        # Dissection with a pulse difference, prior 2 %: 10.4 %.
        (0.02, 5.7, 0.104, 3),
        # Udell 2012 ratios for cirrhosis at 24 %: ascites 69.5 %, spider naevi 57.6 %.
        (0.24, 7.2, 0.695, 3),
        (0.24, 4.3, 0.576, 3),
        # Cholecystitis, gestalt, 5 %: 56.8 % and 61.2 % ("5 % to 60 %", from memory).
        (0.05, 25, 0.568, 3),
        (0.05, 30, 0.612, 3),
        # Eilen 1983: an apex over 3 cm has PPV 86 %, its absence NPV 95 %.
        (0.375, 10.2, 0.86, 2),
        (0.375, 0.088, 1 - 0.95, 2),
    ],
)
def test_post_test_probability_has_the_digits_that_were_printed(prior, ratio, printed, digits):
    assert round(post_test(prior, ratio), digits) == pytest.approx(printed, abs=1e-12)


def test_screening_for_atrial_fibrillation_calls_30_percent_and_misses_0_2_percent():
    # Cooke 2006: sensitivity 94 %, specificity 72 % at 3 %; shares of everyone screened.
    called, passed = np.array([0.94, 0.28]), np.array([0.06, 0.72])
    prior = np.array([0.03, 0.97])
    assert round(float(called @ prior), 2) == 0.30
    assert posterior(prior, called)[0] * (called @ prior) == pytest.approx(0.94 * 0.03)
    assert round(float(posterior(prior, passed)[0] * (passed @ prior)), 3) == 0.002


def test_straus_product_of_four_ratios_of_one_model_is_220():
    # Straus 2000, obstructive airway disease: LR 220 from 8.3 x 7.3 x 2.8 x 1.3.
    after = posterior([0.1, 0.9], [[8.3, 1], [7.3, 1], [2.8, 1], [1.3, 1]])
    odds_ratio = (after[0] / after[1]) / (0.1 / 0.9)
    assert odds_ratio == pytest.approx(220.5, abs=0.05)


@pytest.mark.parametrize(
    ("ratio", "points"),
    [
        (2, [8, 13, 16, 17, 12, 9, 5]),
        (5, [26, 36, 38, 33, 22, 15, 8]),
        (10, [43, 51, 51, 41, 26, 18, 9]),
    ],
)
def test_the_rule_of_thumb_has_its_true_size(ratio, points):
    # McGee 2002 says about 15, 30 and 45 points; the arithmetic at seven pre-test probabilities.
    priors = [0.1, 0.2, 0.3, 0.5, 0.7, 0.8, 0.9]
    gained = [100 * (post_test(p, ratio) - p) for p in priors]
    assert gained == pytest.approx(points, abs=0.51)


@given(SEEDS, st.integers(2, 9), st.integers(0, 6))
def test_posterior_sums_to_one_and_the_order_of_findings_does_not_matter(seed, h, r):
    rng = np.random.default_rng(seed)
    prior, rows = rng.dirichlet(np.ones(h)), rng.random((r, h)) + 1e-9
    forward, backward = posterior(prior, rows), posterior(prior, rows[::-1])
    assert forward.sum() == pytest.approx(1)
    assert forward == pytest.approx(backward, abs=1e-12)
    assert posterior(posterior(prior, rows[: r // 2]), rows[r // 2 :]) == pytest.approx(forward)


@given(st.floats(0.001, 0.999), st.floats(0.001, 1000))
def test_a_ratio_then_its_inverse_returns_to_the_start(prior, ratio):
    # Log-odds add (the algebra of Fagan's nomogram, N Engl J Med 1975).
    after = post_test(prior, ratio)
    assert math.log(after / (1 - after)) == pytest.approx(
        math.log(prior / (1 - prior)) + math.log(ratio), abs=1e-7
    )
    assert posterior([prior, 1 - prior], [[ratio, 1], [1 / ratio, 1]])[0] == pytest.approx(prior)
    assert post_test(prior, 1.0) == pytest.approx(prior)


def test_no_findings_leave_the_prior_as_it_is():
    assert posterior([0.2, 0.3, 0.5], []) == pytest.approx([0.2, 0.3, 0.5])


def test_a_thousand_weak_findings_do_not_underflow():
    after = posterior([0.5, 0.5], np.tile([1e-5, 2e-5], (1000, 1)))
    assert after == pytest.approx([0, 1])


def test_stacked_and_single_rows_are_read_alike():
    flat = posterior([0.4, 0.6], [[0.2, 0.5], [0.9, 0.1]])
    assert posterior([0.4, 0.6], [[[0.2, 0.5]], [[0.9, 0.1]]]) == pytest.approx(flat)
    assert posterior([0.4, 0.6], [0.2, 0.5]) == pytest.approx(posterior([0.4, 0.6], [[0.2, 0.5]]))


@pytest.mark.parametrize(
    ("prior", "rows", "words"),
    [
        ([0.5, 0.6], [[1, 1]], "divide each entry by the sum"),
        ([0.5, -0.5, 1.0], [[1, 1, 1]], "negative"),
        ([0.0, 0.0], [[1, 1]], "all zero"),
        ([math.nan, 1.0], [[1, 1]], "NaN"),
        ([], [], "at least one probability"),
        ([0.5, 0.5], [[0, 0]], "row 0 is all zero"),
        ([0.5, 0.5], [[0.1, math.nan]], "NaN"),
        ([0.5, 0.5], [[0.1, math.inf]], "infinity"),
        ([0.5, 0.5], [[0.1, -0.2]], "negative"),
        ([0.5, 0.5], [[0.1, 0.2, 0.3]], "2 numbers in each row"),
        ([0.5, 0.5], [[0.1, 0.2], [0.1]], "equal length"),
        ([0.5, 0.5], [[1, 0], [0, 1]], "rule out every hypothesis"),
        ([1.0, 0.0], [[0, 1]], "rule out every hypothesis"),
    ],
)
def test_a_refusal_says_what_to_do(prior, rows, words):
    with pytest.raises(ValueError, match=words):
        posterior(prior, rows)
