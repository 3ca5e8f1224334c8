"""Evidence groups: of signs that are not independent only the strongest counts.

Owns that rule and what it does to posterior and expected information.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from casebank.domain.evidence.arrays import (
    Floats,
    as_distribution,
    as_floats,
    as_rows,
    as_tables,
    log_of,
    normalised,
)
from casebank.domain.evidence.information import entropies, expected_information_many

SeenRow = tuple[str | None, ArrayLike]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Combined:
    """The posterior (H,), with the positions in ``seen`` that counted and that did not."""

    posterior: Floats
    counted: tuple[int, ...]
    ignored: tuple[int, ...]


@dataclass(frozen=True)
class _Held:
    """Checked evidence: rows as logarithms, and which of them counts for its group."""

    prior: Floats
    rows: Floats
    groups: tuple[str | None, ...]
    strengths: Floats
    strongest: dict[str, int]

    def counts(self, position: int) -> bool:
        group = self.groups[position]
        return group is None or self.strongest[group] == position

    def log_weights(self, without: str | None = None) -> Floats:
        kept = [
            i for i, g in enumerate(self.groups) if self.counts(i) and (g is None or g != without)
        ]
        return np.asarray(log_of(self.prior) + self.rows[kept].sum(axis=0), dtype=np.float64)


def combine(prior: ArrayLike, seen: Sequence[SeenRow]) -> Combined:
    """Posterior of findings of which some belong together.

    Parameters
    ----------
    prior : array_like, shape (H,)
        Probabilities that sum to 1.
    seen : sequence of (group or None, row)
        In the order seen; ``row`` (H,) is P(outcome | hypothesis). Rows without a group all
        count. Within a group the strongest counts: the largest spread of the log likelihood
        (max - min) over hypotheses that the prior has not excluded; of equals the first seen.

    Raises
    ------
    ValueError
        As ``posterior``.
    """
    held = _held(prior, seen)
    positions = range(len(held.groups))
    return Combined(
        posterior=normalised(held.log_weights()),
        counted=tuple(i for i in positions if held.counts(i)),
        ignored=tuple(i for i in positions if not held.counts(i)),
    )


def expected_information_given(
    prior: ArrayLike, seen: Sequence[SeenRow], group: str | None, table: ArrayLike
) -> float:
    """Expected bits of one more finding of ``group``, given what was seen under the group rule.

    H(D | seen) - sum of P(o | seen) H(D | seen, o), clipped at 0, where an outcome changes the
    differential only if it is stronger than what its group already holds, and then replaces it.
    Where nothing of the group was seen this is ``expected_information`` of the posterior.

    ``prior`` is the case's prior (H,), not the posterior; ``table`` is (O, H).
    """
    tables = as_floats(table, "outcome table")[np.newaxis]
    return float(expected_information_given_many(prior, seen, (group,), tables)[0])


def expected_information_given_many(
    prior: ArrayLike, seen: Sequence[SeenRow], groups: Sequence[str | None], tables: ArrayLike
) -> Floats:
    """``expected_information_given`` of many findings: groups (S,), tables (S, O, H); bits (S,)."""
    held = _held(prior, seen)
    checked = as_tables(tables, held.prior.size)
    if len(groups) != len(checked):
        raise ValueError(f"give one group (or None) a table: {len(groups)} for {len(checked)}.")
    now = normalised(held.log_weights())
    bits = expected_information_many(now, checked)
    spoken_for = [index for index, group in enumerate(groups) if group in held.strongest]
    if spoken_for:
        names = [str(groups[index]) for index in spoken_for]
        bits[spoken_for] = _gains_within_groups(held, now, names, checked[spoken_for])
    return bits


def _gains_within_groups(held: _Held, now: Floats, groups: Sequence[str], tables: Floats) -> Floats:
    """Bits (S,) of findings whose group, one a table of (S, O, H), has spoken already.

    An outcome that does not replace what the group holds changes nothing, so only those that do
    are worked out: sum of P(o | seen) (H(D | seen) - H(D | seen, o)) over them.
    """
    place, outcome = np.nonzero(_replaces(held, now, groups, tables))
    rows = tables[place, outcome]
    kinds = {name: number for number, name in enumerate(dict.fromkeys(groups))}
    without = np.stack([held.log_weights(without=name) for name in kinds])
    kind = np.array([kinds[name] for name in groups])[place]
    after = normalised(without[kind] + log_of(rows))
    gains = (rows @ now) * (entropies(now) - entropies(after))
    return np.maximum(np.bincount(place, weights=gains, minlength=len(tables)), 0.0)


def _replaces(held: _Held, now: Floats, groups: Sequence[str], tables: Floats) -> Bools:
    """Whether each outcome (S, O) can happen and is stronger than what its group holds."""
    standing = held.strengths[[held.strongest[group] for group in groups]]
    spread = strengths_of(held.prior, tables.reshape(-1, now.size)).reshape(tables.shape[:2])
    return np.asarray((tables @ now > 0) & (spread > standing[:, np.newaxis]))


def _held(prior: ArrayLike, seen: Sequence[SeenRow]) -> _Held:
    p = as_distribution(prior)
    given = [as_rows(row, p.size, f"finding {i}") for i, (_, row) in enumerate(seen)]
    rows = np.concatenate([np.empty((0, p.size)), *given])
    if len(rows) != len(seen):
        raise ValueError("give each finding seen exactly one row of likelihoods.")
    strengths = strengths_of(p, rows)
    groups = tuple(group for group, _ in seen)
    strongest: dict[str, int] = {}
    for i, group in enumerate(groups):
        if group is not None and strengths[i] > strengths[strongest.get(group, i)]:
            strongest[group] = i
        elif group is not None:
            strongest.setdefault(group, i)
    return _Held(p, log_of(rows), groups, strengths, strongest)


def strengths_of(prior: Floats, rows: Floats) -> Floats:
    """How strongly each row (R, H) speaks: the spread of its log likelihood, (R,).

    Over the hypotheses that ``prior`` (H,) has not excluded; infinite where one is ruled out.
    """
    possible = rows[:, prior > 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        spread = np.log(possible.max(axis=1)) - np.log(possible.min(axis=1))
    return np.asarray(np.nan_to_num(spread, nan=0.0, posinf=np.inf), dtype=np.float64)
