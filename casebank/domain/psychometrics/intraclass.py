"""Intraclass correlations of ratings, in the six forms of Shrout and Fleiss."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import fdtri

from casebank.domain.psychometrics.estimate import Estimate, without_value
from casebank.domain.psychometrics.generalizability import MeanSquares, mean_squares
from casebank.domain.psychometrics.scores import complete_rows, size_of

Form = Literal["1,1", "2,1", "3,1", "1,k", "2,k", "3,k"]
Interval = tuple[float, float]


def intraclass(ratings: ArrayLike, form: Form = "2,1") -> Estimate:
    """Intraclass correlation of ratings (n targets, k raters) with its F interval.

    Shrout & Fleiss, Psychol Bull 1979. ``2`` treats raters as sampled from a pool, ``3`` only if
    these same raters always rate, ``1`` if every target had other raters; ``,k`` is the
    reliability of the mean of k raters. Targets with a NaN are left out.

    Returns
    -------
    Estimate
        ``undefined`` with fewer than two targets or raters or if no rating differs. Without
        disagreement, or where form 2's approximation fails (a negative value, three or four
        targets), there is no interval.
    """
    x = complete_rows(ratings, "ratings")
    n, k = size_of(x)
    method = f"ICC({form}), F interval"
    if n < 2 or k < 2:
        return without_value("undefined", "It takes two targets and two raters.", method, n, k)
    if np.ptp(x) == 0:
        return without_value("undefined", "Every rating is the same.", method, n, k)
    ms = mean_squares(x)
    within = (ms.case * (k - 1) + ms.residual * (n - 1) * (k - 1)) / (n * (k - 1))
    single, ends = _single(form, ms, within, n, k)
    if single is None:
        reason = "The ratings contradict each other so far that this form has no value."
        return without_value("not_estimable", reason, method, n, k)
    if form.endswith(",k"):
        return _of_mean_rating(single, ends, n, k, form)
    low, high = ends or (None, None)
    return Estimate(single, low, high, n, k, method if ends else _bare(form))


def _of_mean_rating(single: float, ends: Interval | None, n: int, k: int, form: Form) -> Estimate:
    if 1 + (k - 1) * single <= 0:
        reason = "Targets do not differ at all on average, so their mean has no reliability."
        return without_value("not_estimable", reason, f"ICC({form})", n, k)
    if ends is None or 1 + (k - 1) * ends[0] <= 0:
        return Estimate(_of_mean(single, k), None, None, n, k, _bare(form))
    low, high = _of_mean(ends[0], k), _of_mean(ends[1], k)
    return Estimate(_of_mean(single, k), low, high, n, k, f"ICC({form}), F interval")


def _bare(form: Form) -> str:
    return f"ICC({form}), no interval"


def _single(
    form: Form, ms: MeanSquares, within: float, n: int, k: int
) -> tuple[float | None, Interval | None]:
    error = within if form[0] == "1" else ms.residual
    raters = k * (ms.case - error) / n if form[0] == "2" else 0.0
    divisor = ms.person + (k - 1) * error + raters
    if divisor <= 0:
        return None, None
    value = (ms.person - error) / divisor
    if error <= 0:
        return value, None
    if form[0] == "2":
        return value, _two_way_random(ms, value, n, k)
    df = n * (k - 1) if form[0] == "1" else (n - 1) * (k - 1)
    ratio = ms.person / error
    low, high = ratio / float(fdtri(n - 1, df, 0.975)), ratio * float(fdtri(df, n - 1, 0.975))
    return value, ((low - 1) / (low + k - 1), (high - 1) / (high + k - 1))


def _two_way_random(ms: MeanSquares, value: float, n: int, k: int) -> Interval | None:
    """Satterthwaite interval of ICC(2,1), as Shrout & Fleiss and McGraw & Wong (1996)."""
    raters = ms.case / ms.residual
    rest = n * (1 + (k - 1) * value) - k * value
    above = (k - 1) * (n - 1) * (k * value * raters + rest) ** 2
    below = (n - 1) * (k * value * raters) ** 2 + rest**2
    if above <= 0 or below <= 0:
        return None
    df = above / below
    upper, lower = float(fdtri(n - 1, df, 0.975)), float(fdtri(df, n - 1, 0.975))
    pooled = k * ms.case + (k * n - k - n) * ms.residual
    divisors = (upper * pooled + n * ms.person, pooled + n * lower * ms.person)
    # A negative value may leave no degrees of freedom to approximate with.
    if not (math.isfinite(upper) and math.isfinite(lower)) or min(divisors) <= 0:
        return None
    low = n * (ms.person - upper * ms.residual) / divisors[0]
    high = n * (lower * ms.person - ms.residual) / divisors[1]
    return (low, high) if low <= value <= high else None


def _of_mean(single: float, k: int) -> float:
    return k * single / (1 + (k - 1) * single)
