"""Internal consistency of a set of items: alpha and its relatives, and the error of a score."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import fdtri

from casebank.domain.psychometrics.estimate import Estimate, without_value
from casebank.domain.psychometrics.scores import (
    Floats,
    complete_rows,
    covariances,
    is_binary,
    size_of,
)

ALPHA = "Cronbach's alpha, listwise, Feldt interval"


def alpha(scores: ArrayLike) -> Estimate:
    """Cronbach's alpha, k/(k-1) (1 - sum of item variances / variance of the total).

    Interval after Feldt: 1 - (1 - alpha) F at .975 and .025 with n-1 and (n-1)(k-1) degrees of
    freedom (Feldt, Woodruff & Salih, Appl Psychol Meas 1987; from memory). A negative value is
    information and is kept: the items disagree.

    Parameters
    ----------
    scores : array_like, shape (n, k)
        Learners with a NaN are left out; ``n_used`` says how many remain.

    Returns
    -------
    Estimate
        ``undefined`` with fewer than two learners or items, or if all totals are equal.
    """
    x = complete_rows(scores)
    n, k = size_of(x)
    if n < 2 or k < 2:
        reason = "Alpha needs at least two learners and two items."
        return without_value("undefined", reason, ALPHA, n, k)
    parts = covariances(x)
    if parts.total == 0:
        return without_value("undefined", "Everyone has the same total.", ALPHA, n, k)
    value = k / (k - 1) * (1 - float(parts.item.sum()) / parts.total)
    return Estimate(value, *feldt(value, n, k), n, k, ALPHA, "ok", _disagreement(value))


def alpha_if_deleted(scores: ArrayLike) -> tuple[Estimate, ...]:
    """Alpha of the other items, for each item; a case that raises it is one to read again.

    Returns
    -------
    tuple of k Estimate
        ``undefined`` with fewer than three items or where the others' total has no variance.
    """
    x = complete_rows(scores)
    n, k = size_of(x)
    method = f"{ALPHA}, without the item"
    if n < 2 or k < 3:
        reason = "Alpha without an item needs at least two learners and three items."
        return (without_value("undefined", reason, method, n, k - 1),) * k
    parts = covariances(x)
    ratio = np.divide(
        parts.item.sum() - parts.item, parts.rest, out=np.full(k, np.nan), where=parts.rest > 0
    )
    values = (k - 1) / (k - 2) * (1 - ratio)
    return tuple(_without_item(value, n, k, method) for value in values.tolist())


def kr20(scores: ArrayLike) -> Estimate:
    """Kuder-Richardson formula 20: alpha of right/wrong items; refuses any other score."""
    return replace(alpha(_binary(scores)), method="KR-20, Feldt interval")


def kr21(scores: ArrayLike) -> Estimate:
    """Kuder-Richardson formula 21, k/(k-1) (1 - M(k-M)/(k s^2)), a lower bound of KR-20.

    M and s^2 are mean and variance (ddof 0) of the total; equal to KR-20 only if all items are
    equally hard. Refuses scores other than 0 and 1.
    """
    x = _binary(scores)
    n, k = size_of(x)
    method = "KR-21, no interval"
    variance = float(x.sum(axis=1).var()) if n else 0.0
    if n < 2 or k < 2 or variance == 0:
        reason = "KR-21 needs two learners with different totals, and two items."
        return without_value("undefined", reason, method, n, k)
    mean = float(x.sum(axis=1).mean())
    value = k / (k - 1) * (1 - mean * (k - mean) / (k * variance))
    return Estimate(value, None, None, n, k, method)


def standard_error_of_measurement(scores: ArrayLike) -> Estimate:
    """Standard error of a total score, s_T sqrt(1 - alpha), in points.

    The interval carries Feldt's of alpha and takes s_T as known. For a pass mark prefer the
    absolute error of a decision study.
    """
    x = complete_rows(scores)
    reliability = alpha(x)
    method = "standard error of measurement from alpha"
    if reliability.value is None:
        n, k, reason = reliability.n_used, reliability.k_used, reliability.reason
        return without_value(reliability.status, reason, method, n, k)
    spread = float(x.sum(axis=1).std(ddof=1))
    low, value, high = (
        spread * math.sqrt(1 - (r if r is not None else reliability.value))
        for r in (reliability.ci_high, reliability.value, reliability.ci_low)
    )
    return Estimate(value, low, high, *size_of(x), method)


def conditional_error(score: float, items: int) -> float:
    """Lord's binomial error of a number-right score, sqrt(x (k - x)/(k - 1)), in points."""
    if items < 2 or not 0 <= score <= items:
        raise ValueError(f"{score:g} of {items} is not a score: give 0..k of at least two items.")
    return math.sqrt(score * (items - score) / (items - 1))


def spearman_brown(reliability: float, factor: float) -> float:
    """Reliability of a test made ``factor`` times as long, with items of the same kind."""
    divisor = 1 + (factor - 1) * reliability
    if factor <= 0 or divisor <= 0:
        raise ValueError("give a factor above 0, and a reliability that such a length allows.")
    return factor * reliability / divisor


def lengthening(reliability: float, target: float) -> float:
    """How many times as long a test must be for ``target``, by Spearman-Brown."""
    if not (0 < reliability < 1 and 0 < target < 1):
        raise ValueError("give a reliability and a target between 0 and 1, both excluded.")
    return target * (1 - reliability) / (reliability * (1 - target))


def feldt(value: float, n: int, k: int) -> tuple[float, float]:
    """Feldt's 95 % interval of an alpha of ``n`` learners on ``k`` items."""
    df, error_df = n - 1, (n - 1) * (k - 1)
    low, high = (1 - (1 - value) * float(fdtri(df, error_df, p)) for p in (0.975, 0.025))
    return low, high


def _without_item(value: float, n: int, k: int, method: str) -> Estimate:
    if math.isnan(value):
        reason = "Without this item everyone has the same total."
        return without_value("undefined", reason, method, n, k - 1)
    return Estimate(value, *feldt(value, n, k - 1), n, k - 1, method, "ok", _disagreement(value))


def _disagreement(value: float) -> str:
    return "The items disagree: who does well on one does worse on others." if value < 0 else ""


def _binary(scores: ArrayLike) -> Floats:
    x = complete_rows(scores)
    if not is_binary(x):
        raise ValueError("KR-20 and KR-21 are for right/wrong items: use alpha for other scores.")
    return x
