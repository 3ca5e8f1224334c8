"""Turns what callers hand in into checked arrays; owns the refusals, not the arithmetic.

Every refusal is a ``ValueError`` whose sentence says what to do.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

SUM_TOLERANCE = 1e-6


def as_floats(values: ArrayLike, name: str) -> Floats:
    """``values`` as a float array; refuses ragged lists, words, NaN, infinity and negatives."""
    try:
        array = np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError) as error:
        message = f"{name} must be numbers in rows of equal length: even them out."
        raise ValueError(message) from error
    if not np.isfinite(array).all():
        raise ValueError(f"{name} holds NaN or infinity: give every hypothesis a finite number.")
    if (array < 0).any():
        raise ValueError(f"{name} holds a negative number: probabilities start at 0.")
    return array


def as_distribution(values: ArrayLike, name: str = "prior") -> Floats:
    """A checked probability distribution (H,), rescaled to sum to exactly 1."""
    array = as_floats(values, name)
    if array.ndim != 1 or array.size == 0:
        raise ValueError(f"{name} must be one row of at least one probability: flatten it.")
    total = float(array.sum())
    if total == 0:
        raise ValueError(f"{name} is all zero: give at least one hypothesis a probability.")
    if abs(total - 1) > SUM_TOLERANCE:
        raise ValueError(f"{name} sums to {total:.6g}, not 1: divide each entry by the sum.")
    return array / total


def as_rows(values: ArrayLike, hypotheses: int, name: str = "likelihoods") -> Floats:
    """Likelihood rows (R, H), R may be 0; a single row (H,) and deeper stacks are flattened."""
    array = as_floats(values, name)
    if array.size == 0:
        return np.empty((0, hypotheses))
    if array.ndim == 0 or array.shape[-1] != hypotheses:
        message = f"{name} must have {hypotheses} numbers in each row, one a hypothesis, not "
        raise ValueError(message + f"{array.shape[-1] if array.ndim else 1}.")
    rows = array.reshape(-1, hypotheses)
    empty = np.flatnonzero(rows.max(axis=1) == 0)
    if empty.size:
        message = f"{name} row {empty[0]} is all zero: give a hypothesis a likelihood above 0."
        raise ValueError(message)
    return rows


def as_tables(values: ArrayLike, hypotheses: int, name: str = "outcome table") -> Floats:
    """Outcome tables (S, O, H), P(outcome | hypothesis), columns rescaled to sum to exactly 1."""
    array = as_floats(values, name)
    if array.ndim != 3 or array.shape[1] == 0 or array.shape[2] != hypotheses:
        message = f"{name} must be outcomes x {hypotheses} hypotheses, not {array.shape}."
        raise ValueError(message)
    sums = array.sum(axis=1, keepdims=True)
    if (np.abs(sums - 1) > SUM_TOLERANCE).any():
        worst = float(sums.flat[int(np.abs(sums - 1).argmax())])
        message = f"{name} has a column that sums to {worst:.6g}, not 1: list every outcome once."
        raise ValueError(message)
    return np.asarray(array / sums, dtype=np.float64)


def log_of(values: Floats) -> Floats:
    """Natural logarithm in which 0 gives minus infinity without a warning."""
    with np.errstate(divide="ignore"):
        return np.asarray(np.log(values), dtype=np.float64)


def normalised(log_weights: Floats) -> Floats:
    """Probabilities (..., H) from log weights; refuses weights that exclude every hypothesis."""
    top = log_weights.max(axis=-1, keepdims=True)
    if np.isneginf(top).any():
        message = (
            "the findings rule out every hypothesis: give one a likelihood above 0 throughout."
        )
        raise ValueError(message)
    weights = np.exp(log_weights - top)
    return np.asarray(weights / weights.sum(axis=-1, keepdims=True), dtype=np.float64)
