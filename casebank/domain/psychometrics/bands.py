"""Marks counted in bands, neighbours joined until no band holds few persons."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

WIDTH = 10
TOP = 100


@dataclass(frozen=True)
class Band:
    """Marks from ``low`` up to, but only at 100 with, ``high``, and how many persons have them."""

    low: int
    high: int
    persons: int


def joined_bands(marks: ArrayLike, floor: int = 10) -> tuple[Band, ...]:
    """Marks (n,) from 0 to 100 in bands of ten, each joined to the next until it holds ``floor``.

    Bands lie side by side from 0 to 100 and hold everybody; what is left over at the top goes to
    the band below it, so that no count is small and none can be had by subtraction. Fewer than
    ``floor`` marks give no band.

    Parameters
    ----------
    marks : array_like of float, shape (n,)
        ValueError for one outside 0 to 100.
    floor : int
        Smallest count that may be shown; at least 5.
    """
    given = np.asarray(marks, dtype=np.float64)
    if given.size and not ((given >= 0) & (given <= TOP)).all():
        raise ValueError("a mark lies outside 0 to 100.")
    if floor < 5:
        raise ValueError(f"a floor of {floor} protects nobody: use at least 5.")
    if given.size < floor:
        return ()
    edges = list(range(0, TOP + 1, WIDTH))
    counts = np.histogram(given, bins=edges)[0].tolist()
    return _joined([Band(*one) for one in zip(edges[:-1], edges[1:], counts, strict=True)], floor)


def _joined(bands: list[Band], floor: int) -> tuple[Band, ...]:
    done: list[Band] = []
    open_: Band | None = None
    for band in bands:
        open_ = band if open_ is None else _one(open_, band)
        if open_.persons >= floor:
            done.append(open_)
            open_ = None
    if open_ is not None:
        done[-1] = _one(done[-1], open_)
    return tuple(done)


def _one(lower: Band, upper: Band) -> Band:
    return Band(lower.low, upper.high, lower.persons + upper.persons)
