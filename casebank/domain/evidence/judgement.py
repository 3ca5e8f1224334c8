"""Scores a stated differential against the truth and against what the evidence supports.

Owns the 0-100 mark of one differential; the averages over many forecasts are ``scoring``'s.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import rel_entr

from casebank.domain.evidence.arrays import Floats, as_distribution
from casebank.domain.evidence.information import LN2


def proper_score_against(
    p_student: ArrayLike, p_reference: ArrayLike, truth: int | Sequence[int]
) -> float:
    """Mark from 0 to 100 of stated probabilities, given the posterior the evidence supports.

    100 x (A + B) / 2, where

    * A = min(1, 1 + Q(student, truth) - Q(reference, truth)), with the quadratic score
      Q(p, y) = 1 - sum of (p - y)^2 / 2 in [0, 1]. It compares with what the supported posterior
      itself scores on this truth, so nobody loses by an unlucky truth.
    * B = 1 - Jensen-Shannon divergence of student and reference in bits.

    Whoever states the supported posterior gets 100, whatever the truth. If the truth is drawn
    from that posterior, any other statement expects less: the advantage inside A has a negative
    mean for every other statement (the quadratic score is strictly proper), the cap can only
    lower it, and B is below 1. So the score is strictly proper for a student who reasons rightly
    from the same evidence, and a lucky certainty is not worth more than sound reasoning.

    Parameters
    ----------
    p_student, p_reference : array_like, shape (H,)
        Probabilities over the same hypotheses; each sums to 1.
    truth : int or sequence of int
        Position of the true hypothesis; several share the truth equally.

    Raises
    ------
    ValueError
        If a distribution is not one, the lengths differ, or ``truth`` is out of range.
    """
    student = as_distribution(p_student, "p_student")
    reference = as_distribution(p_reference, "p_reference")
    if student.size != reference.size:
        raise ValueError("p_student and p_reference must cover the same hypotheses.")
    y = _shares(truth, student.size)
    against_truth = min(1.0, 1 + quadratic_score(student, y) - quadratic_score(reference, y))
    against_reference = 1 - jensen_shannon(student, reference)
    return float(np.clip(50 * (against_truth + against_reference), 0.0, 100.0))


def quadratic_score(p: Floats, y: Floats) -> float:
    """1 - sum of (p - y)^2 / 2, from 0 (certain and wrong) to 1 (certain and right)."""
    return float(1 - ((p - y) ** 2).sum() / 2)


def jensen_shannon(p: Floats, q: Floats) -> float:
    """Jensen-Shannon divergence of two distributions (H,) in bits, from 0 to 1."""
    middle = (p + q) / 2
    return float((rel_entr(p, middle) + rel_entr(q, middle)).sum() / (2 * LN2))


def _shares(truth: int | Sequence[int], hypotheses: int) -> Floats:
    positions = sorted(set(np.atleast_1d(np.asarray(truth, dtype=np.intp)).tolist()))
    if not positions or positions[0] < 0 or positions[-1] >= hypotheses:
        message = f"truth must be positions from 0 to {hypotheses - 1}: look the hypothesis up."
        raise ValueError(message)
    y = np.zeros(hypotheses)
    y[positions] = 1 / len(positions)
    return y
