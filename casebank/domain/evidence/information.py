"""Entropy and expected information in bits; owns the measure, not the choice of a step."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import rel_entr, xlogy

from casebank.domain.evidence.arrays import Floats, as_distribution, as_floats, as_tables

LN2 = math.log(2)


def entropy(p: ArrayLike) -> float:
    """Uncertainty of a distribution (H,) in bits, from 0 to log2(H); 0 log 0 counts as 0."""
    return float(entropies(as_distribution(p, "p")))


def entropies(p: Floats) -> Floats:
    """Entropy in bits along the last axis of checked distributions (..., H)."""
    return np.asarray(-xlogy(p, p).sum(axis=-1) / LN2 + 0.0, dtype=np.float64)


def expected_information(prior: ArrayLike, outcome_table: ArrayLike) -> float:
    """Bits that a step is expected to add to the differential.

    H(D) - sum over outcomes of P(o) H(D | o), which is the mutual information of hypothesis and
    outcome, from 0 to H(D). It is summed as the relative entropy of the joint distribution to the
    product of its margins, so that a worthless step gives 0 and not the noise of a subtraction.

    Parameters
    ----------
    prior : array_like, shape (H,)
        Probabilities now; they sum to 1.
    outcome_table : array_like, shape (O, H)
        P(outcome | hypothesis): each column sums to 1.

    Raises
    ------
    ValueError
        If the prior or a column does not sum to 1, or a number is negative, NaN or infinite.
    """
    table = as_floats(outcome_table, "outcome table")
    return float(expected_information_many(prior, table[np.newaxis])[0])


def expected_information_many(prior: ArrayLike, tables: ArrayLike) -> Floats:
    """Expected information of many steps at once, shape (S,), in bits.

    ``tables`` has shape (S, O, H); a step with fewer outcomes is padded with rows of zeros.
    """
    p = as_distribution(prior)
    joint = as_tables(tables, p.size) * p
    of_outcome = joint.sum(axis=2, keepdims=True)
    bits = rel_entr(joint, of_outcome * p).sum(axis=(1, 2)) / LN2
    # Mutual information is never negative; what is below 0 here is rounding of about 1e-16.
    return np.asarray(np.maximum(bits, 0.0), dtype=np.float64)
