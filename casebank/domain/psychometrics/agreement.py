"""Agreement of two raters on categories: Cohen's kappa, plain or weighted."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from casebank.domain.psychometrics.estimate import Estimate, without_value
from casebank.domain.psychometrics.proportion import Z95
from casebank.domain.psychometrics.scores import Floats

Weighting = Literal["none", "linear", "quadratic"]


def kappa(
    first: Sequence[object],
    second: Sequence[object],
    categories: Sequence[object],
    weights: Weighting | ArrayLike = "none",
) -> Estimate:
    """Cohen's kappa of two raters over the same n subjects.

    Parameters
    ----------
    first, second : sequence, length n
        The category each rater gave.
    categories : sequence
        Every category on offer, in order: an unused grade changes linear weights.
    weights : str or array_like, shape (c, c)
        As ``kappa_from_table``.

    Raises
    ------
    ValueError
        If the lengths differ or a rating is not among the categories.
    """
    place = {category: i for i, category in enumerate(categories)}
    if len(first) != len(second):
        raise ValueError("both raters must have rated the same subjects: leave out the others.")
    try:
        rows, columns = [place[a] for a in first], [place[b] for b in second]
    except KeyError as error:
        raise ValueError(f"{error.args[0]!r} is not among the categories: list it.") from error
    size = len(place)
    flat = np.asarray(rows, dtype=np.intp) * size + np.asarray(columns, dtype=np.intp)
    return kappa_from_table(np.bincount(flat, minlength=size**2).reshape(size, size), weights)


def kappa_from_table(table: ArrayLike, weights: Weighting | ArrayLike = "none") -> Estimate:
    """Cohen's kappa of a table of counts (c, c), rows the first rater's.

    1 - (observed / expected disagreement); with no weights (p_o - p_e)/(1 - p_e). Interval by the
    large-sample error of Fleiss, Cohen & Everitt (Psychol Bull 1969), cut at -1 and 1.

    Parameters
    ----------
    table : array_like, shape (c, c)
        Counts, at least one.
    weights : str or array_like, shape (c, c)
        ``none``, ``linear``, ``quadratic``, or how bad each disagreement is: 0 on the diagonal.

    Returns
    -------
    Estimate
        ``undefined`` if both raters used one and the same category only.
    """
    counts = np.asarray(table, dtype=np.float64)
    if counts.ndim != 2 or counts.shape[0] != counts.shape[1] or (counts < 0).any():
        raise ValueError("table must be square with counts of at least 0, rows the first rater's.")
    disagreement, named = _disagreement(weights, len(counts))
    n, size = round(float(counts.sum())), len(counts)
    method = f"Cohen's kappa, weights {named}, large-sample interval"
    if n == 0:
        return without_value("undefined", "Nobody was rated by both.", method, 0, 2)
    p = counts / counts.sum()
    rows, columns = p.sum(axis=1), p.sum(axis=0)
    expected = float(rows @ disagreement @ columns)
    if expected == 0 or size < 2:
        reason = "Both raters used one category only; show their agreement in per cent."
        return without_value("undefined", reason, method, n, 2)
    value = 1 - float((p * disagreement).sum()) / expected
    half = Z95 * _standard_error(p, disagreement, value, n)
    return Estimate(value, max(-1.0, value - half), min(1.0, value + half), n, 2, method)


def _standard_error(p: Floats, disagreement: Floats, value: float, n: int) -> float:
    agreement = 1 - disagreement / disagreement.max()
    rows, columns = p.sum(axis=1), p.sum(axis=0)
    expected = float(rows @ agreement @ columns)
    means = (agreement @ columns)[:, np.newaxis] + rows @ agreement
    inner = float((p * (agreement - means * (1 - value)) ** 2).sum())
    outer = (value - expected * (1 - value)) ** 2
    return math.sqrt(max(0.0, inner - outer) / n) / (1 - expected)


def _disagreement(weights: Weighting | ArrayLike, size: int) -> tuple[Floats, str]:
    apart = np.abs(np.subtract.outer(np.arange(size), np.arange(size))).astype(np.float64)
    if isinstance(weights, str):
        named = {"none": np.minimum(apart, 1.0), "linear": apart, "quadratic": apart**2}
        if weights not in named:
            raise ValueError(f"{weights!r} is no weighting: none, linear, quadratic or a table.")
        return named[weights], weights
    given = np.asarray(weights, dtype=np.float64)
    if given.shape != apart.shape or (given < 0).any() or np.diagonal(given).any():
        raise ValueError("weights must be shaped as the table, at least 0, and 0 on the diagonal.")
    return given, "as given"
