"""One item at a time: how hard it is and how well it tells learners apart."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtrit

from casebank.domain.psychometrics.estimate import Estimate, without_value
from casebank.domain.psychometrics.proportion import Z95, newcombe, wilson
from casebank.domain.psychometrics.scores import (
    Floats,
    as_scores,
    complete_rows,
    covariances,
    is_binary,
    size_of,
)

Estimates = tuple[Estimate, ...]

NO_INTERVAL = (None, None)


def facility(scores: ArrayLike, maxima: ArrayLike = 1.0) -> Estimates:
    """Facility (difficulty index) of each item: mean score over its maximum, from 0 to 1.

    Parameters
    ----------
    scores : array_like, shape (n, k)
        NaN where an item was not administered; each item uses the learners who had it.
    maxima : float or array_like, shape (k,)
        Highest score of each item.

    Returns
    -------
    tuple of k Estimate
        Wilson's interval for right/wrong items, else a t interval cut at 0 and 1; ``undefined``
        for an item nobody had. 0 and 1 are legal: such an item tells nobody apart.

    Raises
    ------
    ValueError
        If a score lies outside 0..maximum.
    """
    shares = as_scores(scores) / np.asarray(maxima, dtype=np.float64)
    if (shares < 0).any() or (shares > 1).any():
        raise ValueError("a score lies outside 0..maximum: give each item's maximum in maxima.")
    return tuple(_facility(column[~np.isnan(column)]) for column in shares.T)


def discrimination(scores: ArrayLike) -> Estimates:
    """Corrected item-total correlation of each item with the sum of the others, -1 to 1.

    r_j = cov(x_j, T - x_j)/(s_j s_(T-j)) in closed form from the covariance matrix; interval by
    Fisher's z for n > 3. Learners without a missing item are used (listwise).

    Returns
    -------
    tuple of k Estimate
        ``undefined`` where an item, or the total of the others, has no variance.
    """
    x = complete_rows(scores)
    n, k = size_of(x)
    method = "corrected item-total correlation, Fisher z interval"
    if n < 2 or k < 2:
        reason = "It takes two learners and two items to correlate an item with the others."
        return (without_value("undefined", reason, method, n, k),) * k
    parts = covariances(x)
    spread = np.sqrt(parts.item * parts.rest)
    r = np.divide(parts.with_rest, spread, out=np.full(k, np.nan), where=spread > 0)
    return tuple(_correlation(value, n, k, method) for value in r.tolist())


def upper_lower_27(scores: ArrayLike, maxima: ArrayLike = 1.0) -> Estimates:
    """Upper-lower index D of each item: facility in the best 27 % less that in the weakest 27 %.

    Groups of g = .27 n by total score (Kelley, J Educ Psychol 1939). Learners with the total at a
    group's edge share its remaining places equally, so that the order of rows does not matter;
    the result is the mean over all orders of tied learners.

    Returns
    -------
    tuple of k Estimate
        For right/wrong items with Newcombe's interval of the difference of two groups of g,
        approximate because the total includes the item. ``undefined`` if g < 1 or a total is so
        common that its learners would sit in both groups.
    """
    x = complete_rows(scores)
    n, k = size_of(x)
    method = "upper less lower 27 %, ties shared, Newcombe interval"
    size = 0.27 * n
    weights = _group_weights(x, size) if size >= 1 else None
    if weights is None:
        reason = "The best and the weakest 27 % cannot be told apart by their totals."
        return (without_value("undefined", reason, method, n, k),) * k
    sums = (weights @ (x / np.asarray(maxima, dtype=np.float64))).clip(0, size)
    has_interval = is_binary(x)
    found = []
    for high, low in sums.T.tolist():
        ends = newcombe(high, size, low, size) if has_interval else NO_INTERVAL
        found.append(Estimate((high - low) / size, ends[0], ends[1], n, k, method))
    return tuple(found)


def _facility(shares: Floats) -> Estimate:
    n, method = shares.size, "mean over maximum"
    if n == 0:
        return without_value("undefined", "Nobody was given this item.", method, 0)
    mean = float(shares.mean())
    if is_binary(shares):
        return Estimate(mean, *wilson(float(shares.sum()), n), n, 1, f"{method}, Wilson interval")
    if n == 1:
        return Estimate(mean, None, None, n, 1, f"{method}, no interval from one learner")
    half = float(stdtrit(n - 1, 0.975)) * float(shares.std(ddof=1)) / math.sqrt(n)
    low, high = max(0.0, mean - half), min(1.0, mean + half)
    return Estimate(mean, low, high, n, 1, f"{method}, t interval")


def _correlation(r: float, n: int, k: int, method: str) -> Estimate:
    if math.isnan(r):
        reason = "Everyone has the same score on this item or on all the others together."
        return without_value("undefined", reason, method, n, k)
    r = max(-1.0, min(1.0, r))
    if n <= 3:
        return Estimate(r, None, None, n, k, "corrected item-total correlation, no interval")
    if abs(r) == 1:
        return Estimate(r, r, r, n, k, method)
    half = Z95 / math.sqrt(n - 3)
    low, high = math.tanh(math.atanh(r) - half), math.tanh(math.atanh(r) + half)
    return Estimate(r, low, high, n, k, method)


def _group_weights(x: Floats, size: float) -> Floats | None:
    """Membership (2, n), 0 to 1, of every learner in the upper and the lower group."""
    # Totals of fractional scores differ in their last bits; such learners are tied.
    totals = np.round(x.sum(axis=1), 9)
    _, place, count = np.unique(totals, return_inverse=True, return_counts=True)
    below = np.cumsum(count) - count
    above = len(x) - below - count
    places = np.stack([size - above, size - below])
    shares = np.clip(places, 0, count) / count
    if (shares > 0).all(axis=0).any():
        return None
    return np.asarray(shares[:, place], dtype=np.float64)
