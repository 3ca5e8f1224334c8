"""Pass marks by borderline regression: checklist score on the examiner's global grade."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import stdtrit

from casebank.domain.psychometrics.estimate import Estimate, without_value
from casebank.domain.psychometrics.scores import Floats, paired

OLS = "borderline regression, least squares, t interval"


@dataclass(frozen=True)
class BorderlineRegression:
    """The pass mark and the line behind it.

    ``slope`` is the discrimination between grades, in points a grade; ``r_squared`` from 0 to 1;
    ``standard_error`` of the pass mark in points. The last four are None without a line.
    """

    cut: Estimate
    slope: float | None = None
    intercept: float | None = None
    r_squared: float | None = None
    standard_error: float | None = None


def borderline_regression(
    checklist: ArrayLike, grades: ArrayLike, borderline: float = 1.0
) -> BorderlineRegression:
    """Pass mark where the least-squares line of checklist on grade meets the borderline grade.

    Grades are taken as equally spaced, which examiners are known to violate.

    Parameters
    ----------
    checklist, grades : array_like, shape (n,)
        Checklist score in points and global grade as a number; pairs with a NaN are left out.
    borderline : float
        The number that means borderline.

    Returns
    -------
    BorderlineRegression
        Its cut is ``undefined`` with fewer than three pairs or a single grade, and
        ``not_estimable`` where better grades do not go with higher scores.
    """
    y, x = paired(checklist, grades)
    n = y.size
    if n < 3 or np.ptp(x) == 0:
        reason = "Borderline regression needs three candidates and two different grades."
        return BorderlineRegression(without_value("undefined", reason, OLS, n))
    dx, dy = x - x.mean(), y - y.mean()
    sxx, sxy, syy = float(dx @ dx), float(dx @ dy), float(dy @ dy)
    slope = sxy / sxx
    intercept = float(y.mean()) - slope * float(x.mean())
    left = max(0.0, syy - slope * sxy)
    leverage = 1 / n + (borderline - float(x.mean())) ** 2 / sxx
    error = math.sqrt(left / (n - 2) * leverage)
    explained = 1 - left / syy if syy > 0 else 0.0
    cut = _cut(intercept + slope * borderline, slope, error, n)
    return BorderlineRegression(cut, slope, intercept, explained, error)


def borderline_bootstrap(
    checklist: ArrayLike,
    grades: ArrayLike,
    seed: int,
    borderline: float = 1.0,
    draws: int = 2000,
) -> Estimate:
    """The same pass mark with a percentile interval over resampled candidates (pairs).

    Resamples that hold a single grade have no line; they are dropped and counted in ``reason``.
    """
    y, x = paired(checklist, grades)
    exact = borderline_regression(y, x, borderline).cut
    if exact.value is None:
        return exact
    cuts = _resampled_cuts(y, x, borderline, np.random.default_rng(seed), draws)
    low, high = np.quantile(cuts, [0.025, 0.975]).tolist()
    dropped = draws - cuts.size
    note = f"{dropped} of {draws} resamples held a single grade." if dropped else ""
    method = f"borderline regression, percentile interval of {draws} resamples"
    return Estimate(exact.value, low, high, y.size, 1, method, "ok", note)


def _resampled_cuts(
    y: Floats, x: Floats, borderline: float, rng: np.random.Generator, draws: int
) -> Floats:
    weights = rng.multinomial(y.size, np.full(y.size, 1 / y.size), size=draws)
    # Centred first, so that the moments of a resample keep their digits.
    dx, dy = x - x.mean(), y - y.mean()
    moments = weights @ np.stack([dx, dy, dx * dx, dx * dy], axis=1) / y.size
    mean_x, mean_y = moments[:, 0], moments[:, 1]
    sxx = moments[:, 2] - mean_x**2
    has_line = sxx > 1e-12 * float((dx * dx).mean())
    slope = (moments[:, 3] - mean_x * mean_y)[has_line] / sxx[has_line]
    at = borderline - float(x.mean())
    return np.asarray(mean_y[has_line] + slope * (at - mean_x[has_line]) + y.mean())


def _cut(value: float, slope: float, error: float, n: int) -> Estimate:
    if slope <= 0:
        reason = "Better grades do not go with higher scores, so there is no pass mark to read."
        return without_value("not_estimable", reason, OLS, n)
    half = float(stdtrit(n - 2, 0.975)) * error
    return Estimate(value, value - half, value + half, n, 1, OLS)
