"""Score matrices learners x items: checked, complete, and their covariances.

Missing by design is NaN and never 0; what was not attempted is the caller's 0.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

# A variance this small beside the squares it was summed from is rounding, not variance.
NOISE = 1e-12


def as_scores(scores: ArrayLike, name: str = "scores") -> Floats:
    """Scores (n, k) as floats, NaN allowed; refuses other shapes, words and infinity."""
    try:
        array = np.asarray(scores, dtype=np.float64)
    except (TypeError, ValueError) as error:
        raise ValueError(f"{name} must be numbers, one row a learner, all of a length.") from error
    if array.ndim != 2:
        raise ValueError(f"{name} must be learners x items, not {array.ndim}-dimensional.")
    if np.isinf(array).any():
        raise ValueError(f"{name} holds infinity: mark what was not administered as NaN.")
    return array


def complete_rows(scores: ArrayLike, name: str = "scores") -> Floats:
    """The learners (n_used, k) to whom every item was administered (listwise)."""
    array = as_scores(scores, name)
    missing = np.isnan(array).any(axis=1)
    return array[~missing] if missing.any() else array


def paired(first: ArrayLike, second: ArrayLike) -> tuple[Floats, Floats]:
    """Two columns (n,) without the pairs of which either is NaN."""
    both = as_scores(np.stack([np.asarray(first), np.asarray(second)], axis=1), "pairs")
    kept = complete_rows(both)
    return kept[:, 0], kept[:, 1]


def size_of(scores: Floats) -> tuple[int, int]:
    """Learners and items, as plain numbers."""
    return int(scores.shape[0]), int(scores.shape[1])


def is_binary(scores: Floats) -> bool:
    """Whether every score is 0 or 1."""
    return bool(((scores == 0) | (scores == 1)).all())


@dataclass(frozen=True)
class Covariances:
    """Variances of items (k,), of the total, and of the total without each item (k,); ddof 1.

    ``with_rest`` (k,) is the covariance of each item with the total of the others.
    """

    item: Floats
    total: float
    rest: Floats
    with_rest: Floats


def covariances(complete: Floats) -> Covariances:
    """Covariances of complete scores (n >= 2, k), from one product of matrices.

    With S the covariance matrix, c = S 1 and t = 1'S 1, the total without item j has variance
    t - 2 c_j + S_jj. What is rounding beside the scores' own size becomes exactly 0.
    """
    means = complete.mean(axis=0)
    centred = complete - means
    matrix = centred.T @ centred / (len(complete) - 1)
    item, sums = np.diagonal(matrix).copy(), matrix.sum(axis=1)
    item[item <= NOISE * means**2] = 0.0
    total = float(sums.sum())
    rest = total - 2 * sums + item
    noise = NOISE * (float(item.sum()) * item.size + float(np.abs(means).sum()) ** 2)
    rest[rest <= noise] = 0.0
    return Covariances(item, total if total > noise else 0.0, rest, sums - item)
