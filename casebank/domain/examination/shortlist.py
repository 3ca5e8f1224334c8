"""Which steps are worth a close look: their names are weighed against a group's words all at once.

Works on arrays over all names (N) and steps (S) of the catalogue. Judges no step: ``scoring`` does.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casebank.domain.examination.coverage import suits
from casebank.domain.examination.groups import Group
from casebank.domain.examination.model import Method
from casebank.domain.examination.stepindex import EXAMINE, StepIndex
from casebank.domain.examination.tokens import Reading, marked_repeats

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

NOT_EXAMINED = 0.85
"""What is left of how fully a whole examination was named where *examine* was not said."""
METHOD_WEIGHT = 0.6
"""How much a fitting verb counts against the weight of words."""
_METHODS = tuple(Method)


@dataclass(frozen=True)
class Hit:
    """The name of a step said most fully: its number, the share of it said, the weight said."""

    name: int
    share: float
    said: float


def shortlist(
    reading: Reading, group: Group, index: StepIndex, most: int
) -> Mapping[int, Hit | None]:
    """Numbers of the ``most`` best steps with their hits; None where technique alone points."""
    names, shares, said = _said(reading, group, index)
    names, shares, said = _best_of_each(names, shares, said, index)
    gains = np.zeros(len(index.entries))
    steps = index.name_steps[names]
    gains[steps] = 2 * shares * said
    for number, gain in _told(reading, group, index).items():
        gains[number] += gain
    chosen = _first(gains, index, group, most)
    places = np.searchsorted(steps, chosen)
    return {
        number: Hit(int(names[place]), float(shares[place]), float(said[place]))
        if place < len(steps) and steps[place] == number
        else None
        for number, place in zip(chosen, places, strict=True)
    }


def _said(reading: Reading, group: Group, index: StepIndex) -> tuple[Ints, Floats, Floats]:
    """Names touched (T,), the share of each that was said, 0-1 or a little more, and its weight."""
    keys = set(marked_repeats(reading.tokens[place].key for place in group.places))
    known = [key for key in sorted(keys) if key in index.by_key]
    if not known:
        return np.empty(0, np.int64), np.empty(0), np.empty(0)
    rows = [index.by_key[key] for key in known]
    weights = np.repeat([index.weight(key) for key in known], [len(row) for row in rows])
    total = np.bincount(np.concatenate(rows), weights=weights, minlength=len(index.phrases))
    names: Ints = np.flatnonzero(total).astype(np.int64)
    said: Floats = np.asarray(total[names], dtype=np.float64)
    shares: Floats = said / index.name_weights[names]
    if EXAMINE not in keys:
        shares = shares * np.where(index.are_examinations[names], NOT_EXAMINED, 1.0)
    return names, shares, said


def _best_of_each(
    names: Ints, shares: Floats, said: Floats, index: StepIndex
) -> tuple[Ints, Floats, Floats]:
    """Of each step the name that ranks highest; the heavier, then the first of equals."""
    if not len(names):
        return names, shares, said
    steps = index.name_steps[names]
    starts = np.flatnonzero(np.diff(steps, prepend=-1))
    lengths = np.diff(np.append(starts, len(steps)))
    ranks: Floats = shares**4 * said
    best = ranks == np.repeat(np.maximum.reduceat(ranks, starts), lengths)
    heavy = np.where(best, said, -1.0)
    best = heavy == np.repeat(np.maximum.reduceat(heavy, starts), lengths)
    places = np.flatnonzero(best)
    _, first = np.unique(steps[places], return_index=True)
    chosen = places[first]
    return names[chosen], shares[chosen], said[chosen]


def _told(reading: Reading, group: Group, index: StepIndex) -> dict[int, float]:
    """What the technique said adds to each step that takes it: for each slot the heaviest value."""
    by_slot: dict[tuple[int, str], float] = {}
    for match in group.matches:
        gain = sum(index.weight(reading.tokens[place].key) for place in match.places)
        for number in index.takers.get(match.value, ()):
            key = (number, match.slot)
            by_slot[key] = max(gain, by_slot.get(key, 0.0))
    total: dict[int, float] = {}
    for (number, _), gain in by_slot.items():
        total[number] = total.get(number, 0.0) + gain
    return total


def _first(gains: Floats, index: StepIndex, group: Group, most: int) -> Sequence[int]:
    """The steps that gained most, the lower number first among equals."""
    bonus = np.array([METHOD_WEIGHT * suits(method, group.methods) for method in _METHODS])
    touched = np.flatnonzero(gains)
    worth = gains[touched] + bonus[index.step_methods[touched]]
    order = np.argsort(-worth, kind="stable")[:most]
    return [int(number) for number in touched[order]]
