"""Small cells: which counts of a published table must be hidden so that no person shows through.

Owns which cells, and the proof that what is left does not give them back.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Bools = NDArray[np.bool_]
Counts = NDArray[np.int64]


@dataclass(frozen=True)
class HiddenCells:
    """Cells of a table with its margins (r + 1, c + 1) that must not be shown.

    The last row and column are the totals. ``primary`` are small themselves or leave a small
    complement; ``complementary`` would give a primary one back by subtraction.
    """

    counts: Counts
    primary: Bools
    complementary: Bools

    @property
    def hidden(self) -> Bools:
        """Every cell to hide."""
        return np.asarray(self.primary | self.complementary)

    def shown(self) -> tuple[tuple[int | None, ...], ...]:
        """Rows of counts with None where hidden."""
        return tuple(
            tuple(None if hide else int(n) for n, hide in zip(row, mask, strict=True))
            for row, mask in zip(self.counts, self.hidden, strict=True)
        )


def hide_small(counts: ArrayLike, floor: int = 10) -> HiddenCells:
    """Choose the cells of groups x outcomes (r, c) to hide so that no small count shows.

    Primary: a count from 1 to ``floor`` - 1, totals too, and a count whose complement in its
    group is that small. Complementary: more cells, the smallest first, until linear programming
    over what is still shown leaves every primary cell at least half of ``floor`` wide.

    Parameters
    ----------
    counts : array_like of int, shape (r, c) or (c,)
        Persons, at least 0.
    floor : int
        Smallest count that may be shown; at least 5.
    """
    table = with_margins(counts)
    if floor < 5:
        raise ValueError(f"a floor of {floor} protects nobody: use at least 5.")
    primary = (table > 0) & (table < floor)
    left = table[:, -1:] - table
    primary[:, :-1] |= ((left > 0) & (left < floor))[:, :-1]
    hidden = primary.copy()
    while (line := _lonely_line(hidden)) is not None:
        _hide_one_more(table, hidden, line)
    # Hiding more only widens what is possible, so each small cell is proved once. A complementary
    # cell needs no proof: it might be shown, and is hidden for the small ones' sake only.
    for row, col in np.argwhere(primary).tolist():
        while _is_exposed(table, hidden, (row, col), floor) and not hidden.all():
            _hide_one_more(table, hidden, _cross(table, row, col))
    return HiddenCells(table, primary, hidden & ~primary)


def with_margins(counts: ArrayLike) -> Counts:
    """Counts (r + 1, c + 1) with totals in the last row and column."""
    given = np.atleast_2d(np.asarray(counts))
    if given.ndim != 2 or given.size == 0 or not np.issubdtype(given.dtype, np.integer):
        raise ValueError("counts must be whole numbers of persons, groups x outcomes.")
    if (given < 0).any():
        raise ValueError("a count is negative: count persons.")
    rows = np.hstack([given, given.sum(axis=1, keepdims=True)])
    return np.asarray(np.vstack([rows, rows.sum(axis=0)]), dtype=np.int64)


def possible_range(table: Counts, hidden: Bools, cell: tuple[int, int]) -> tuple[float, float]:
    """Least and greatest value of a hidden cell that the shown cells of the table allow.

    ``table`` and ``hidden`` have the shape of ``with_margins``; unknown counts are at least 0.
    """
    from scipy.optimize import linprog

    places = np.flatnonzero(hidden)
    column = {int(place): i for i, place in enumerate(places)}
    left, right = _equations(table, hidden, column)
    goal = np.zeros(places.size)
    goal[column[int(np.ravel_multi_index(cell, table.shape))]] = 1.0
    ends = []
    for sign in (1.0, -1.0):
        found = linprog(sign * goal, A_eq=left, b_eq=right, bounds=(0, None), method="highs")
        end = found.fun if found.success else None
        ends.append(sign * (-np.inf if end is None else float(end)))
    return ends[0], ends[1]


def _equations(
    table: Counts, hidden: Bools, column: dict[int, int]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Every row and column as parts - total = 0, with the shown cells moved to the right."""
    signs = np.ones(table.shape)
    lines = []
    for axis, size in enumerate(table.shape):
        for i in range(size):
            line = np.zeros(table.shape)
            line[(i, slice(None)) if axis == 0 else (slice(None), i)] = 1.0
            lines.append(line)
    signs[-1, :] *= -1
    signs[:, -1] *= -1
    left, right = [], []
    for line in lines:
        edge = line * signs
        unknown = np.where(hidden, edge, 0.0)
        left.append([unknown.flat[place] for place in column])
        right.append(-float((np.where(hidden, 0.0, edge) * table).sum()))
    return np.asarray(left), np.asarray(right)


def _is_exposed(table: Counts, hidden: Bools, cell: tuple[int, int], floor: int) -> bool:
    low, high = possible_range(table, hidden, cell)
    return high - low < floor / 2


def _lonely_line(hidden: Bools) -> Bools | None:
    """The first row or column whose single hidden cell is given back by subtraction."""
    for row in np.flatnonzero(hidden.sum(axis=1) == 1):
        return _cross(hidden, int(row), None)
    for col in np.flatnonzero(hidden.sum(axis=0) == 1):
        return _cross(hidden, None, int(col))
    return None


def _cross(table: Counts | Bools, row: int | None, col: int | None) -> Bools:
    line = np.zeros(table.shape, dtype=bool)
    if row is not None:
        line[row, :] = True
    if col is not None:
        line[:, col] = True
    return line


def _hide_one_more(table: Counts, hidden: Bools, line: Bools) -> None:
    """Hide one shown cell of ``line``, or of the table if the line is used up.

    Inner cells before totals, counts before zeros, then where the crossing line already hides
    one, then the smallest: the least is lost to the reader.
    """
    candidates = line & ~hidden
    places = np.argwhere(candidates if candidates.any() else ~hidden)
    rows, cols = places.T
    is_total = (rows == table.shape[0] - 1) | (cols == table.shape[1] - 1)
    value = table[rows, cols]
    starts_a_line = (hidden[:, cols].sum(axis=0) == 0) | (hidden[rows, :].sum(axis=1) == 0)
    best = int(np.lexsort((value, starts_a_line, value == 0, is_total))[0])
    hidden[rows[best], cols[best]] = True
