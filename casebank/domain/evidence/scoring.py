"""Scores of many stated probabilities: Brier, logarithmic, and Murphy's parts of Brier's."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from casebank.domain.evidence.arrays import SUM_TOLERANCE, Floats, as_floats

LOG_SCORE_CLIP = 0.01


@dataclass(frozen=True)
class Murphy:
    """Brier = reliability - resolution + uncertainty, exact over the distinct forecasts.

    Reliability is 0 when every forecast came true as often as it said; resolution is higher the
    more the forecasts tell cases apart; uncertainty is the outcome's own variance.
    """

    reliability: float
    resolution: float
    uncertainty: float
    brier: float
    forecasts: int


def brier(p: ArrayLike, truth: ArrayLike) -> float:
    """Multi-class Brier score: mean over differentials of sum (p - y)^2, from 0 (best) to 2.

    Parameters
    ----------
    p : array_like, shape (H,) or (N, H)
        Stated probabilities; each row sums to 1.
    truth : int, array of N ints, or array shaped as ``p``
        Position of the true hypothesis, or the truth as shares that sum to 1.

    Raises
    ------
    ValueError
        If a row does not sum to 1 or ``truth`` does not fit ``p``.

    Notes
    -----
    With two classes this is twice the mean (p - y)^2 of ``murphy``.
    """
    stated, true = _forecasts(p, truth)
    return float(((stated - true) ** 2).sum(axis=1).mean())


def log_score(p: ArrayLike, truth: ArrayLike, clip: float = LOG_SCORE_CLIP) -> float:
    """Logarithmic score in bits: mean of -log2 p(truth), from 0 (best) to -log2 ``clip``.

    A probability below ``clip`` (0.01 unless said otherwise) on the truth counts as ``clip``, so
    that one certain error costs 6.64 bits and not infinity; say so wherever the score is shown.
    Shapes and errors as ``brier``; several true hypotheses are weighed by their shares.
    """
    if not 0 < clip < 1:
        raise ValueError(f"clip is {clip:g}: give a probability above 0 and below 1.")
    stated, true = _forecasts(p, truth)
    return float(-(true * np.log2(np.maximum(stated, clip))).sum(axis=1).mean()) + 0.0


def murphy(p: ArrayLike, y: ArrayLike) -> Murphy:
    """Murphy's decomposition (J Appl Meteorol 1973) of forecasts of one event.

    Parameters
    ----------
    p : array_like, shape (N,)
        Stated probabilities of the event; grouped by value, so let a slider step.
    y : array_like, shape (N,)
        1 where it was so, 0 where not.
    """
    stated, came_true = binary_forecasts(p, y)
    _, group, size = np.unique(stated, return_inverse=True, return_counts=True)
    said = np.bincount(group, weights=stated) / size
    rate = np.bincount(group, weights=came_true) / size
    base = float(came_true.mean())
    share = size / stated.size
    return Murphy(
        reliability=float(share @ (said - rate) ** 2),
        resolution=float(share @ (rate - base) ** 2),
        uncertainty=base * (1 - base),
        brier=float(((stated - came_true) ** 2).mean()),
        forecasts=stated.size,
    )


def binary_forecasts(p: ArrayLike, y: ArrayLike) -> tuple[Floats, Floats]:
    """Checked forecasts (N,) in [0, 1] of one event, and whether it was so (N,) as 0.0 or 1.0."""
    stated, came_true = as_floats(p, "p"), as_floats(y, "y")
    if stated.ndim != 1 or stated.size == 0 or stated.shape != came_true.shape:
        raise ValueError("give one forecast and one outcome a row, at least one: even them out.")
    if (stated > 1).any():
        raise ValueError("a forecast is above 1: give probabilities, not percentages.")
    if not np.isin(came_true, (0, 1)).all():
        raise ValueError("an outcome is neither 0 nor 1: say whether it was so.")
    return stated, came_true


def _forecasts(p: ArrayLike, truth: ArrayLike) -> tuple[Floats, Floats]:
    given = as_floats(p, "p")
    if given.ndim not in (1, 2) or given.size == 0:
        raise ValueError("p must be a differential (H,) or one a row (N, H), at least one.")
    stated, true = np.atleast_2d(given), np.asarray(truth)
    if (np.abs(stated.sum(axis=1) - 1) > SUM_TOLERANCE).any():
        raise ValueError("a differential in p does not sum to 1: divide it by its sum.")
    shares = _one_hot(true, stated.shape[1]) if true.ndim == given.ndim - 1 else np.atleast_2d(true)
    if shares.shape != stated.shape or (np.abs(shares.sum(axis=1) - 1) > SUM_TOLERANCE).any():
        raise ValueError("truth must give each differential one position, or shares summing to 1.")
    return stated, as_floats(shares, "truth")


def _one_hot(true: NDArray[Any], size: int) -> Floats:
    if not np.issubdtype(true.dtype, np.integer):
        raise ValueError("truth must be whole positions: look the hypothesis up in the list.")
    positions = np.atleast_1d(true.astype(np.intp))
    if (positions < 0).any() or (positions >= size).any():
        raise ValueError(f"truth must be positions from 0 to {size - 1}.")
    return np.asarray(np.eye(size)[positions], dtype=np.float64)
