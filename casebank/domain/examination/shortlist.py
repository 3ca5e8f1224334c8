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
    reading: Reading, group: Group, index: StepIndex, most: int, also: Sequence[int] = ()
) -> Mapping[int, Hit | None]:
    """Numbers of the ``most`` best steps, and of those ``also`` to be looked at, with their hits;
    None where technique alone points."""
    names, shares, said = _said(reading, group, index)
    best = _best_of_each(names, shares, said, index)
    gains = np.where(best < 0, 0.0, (2 * shares * said)[best]) if len(names) else _none(index)
    chosen = {*_first(gains + _told(reading, group, index), index, group, most), *also}
    return {
        number: Hit(int(names[place]), float(shares[place]), float(said[place]))
        if (place := best[number]) >= 0
        else None
        for number in chosen
    }


def _none(index: StepIndex) -> Floats:
    return np.zeros(len(index.entries))


def _said(reading: Reading, group: Group, index: StepIndex) -> tuple[Ints, Floats, Floats]:
    """Names touched (T,), the share of each that was said, 0-1 or a little more, and its weight."""
    keys = set(marked_repeats(reading.tokens[place].key for place in group.places))
    known = [key for key in sorted(keys) if key in index.by_key]
    if not known:
        return np.empty(0, np.int64), np.empty(0), np.empty(0)
    rows = [index.by_key[key] for key in known]
    weights = np.repeat([index.weight(key) for key in known], [len(row) for row in rows])
    total = np.bincount(np.concatenate(rows), weights=weights, minlength=len(index.phrases))
    names: Ints = np.flatnonzero(total > 0).astype(np.int64)
    said: Floats = np.asarray(total[names], dtype=np.float64)
    shares: Floats = said / index.name_weights[names]
    if EXAMINE not in keys:
        shares = shares * np.where(index.are_examinations[names], NOT_EXAMINED, 1.0)
    return names, shares, said


def _best_of_each(names: Ints, shares: Floats, said: Floats, index: StepIndex) -> Ints:
    """For each step (S,) the place of its name that ranks highest, the first of equals, or -1."""
    best = np.full(len(index.entries), -1)
    if len(names):
        steps, ranks = index.name_steps[names], shares**4 * said
        top = _none(index)
        np.maximum.at(top, steps, ranks)
        places = np.flatnonzero(ranks == top[steps])[::-1]
        best[steps[places]] = places
    return best


def _told(reading: Reading, group: Group, index: StepIndex) -> Floats:
    """What the technique said adds to each step that takes it: for each slot the heaviest value."""
    by_slot: dict[str, Floats] = {}
    for match in group.matches:
        takers = index.takers.get(match.value)
        if takers is not None:
            gain = sum(index.weight(reading.tokens[place].key) for place in match.places)
            slot = by_slot.setdefault(match.slot, _none(index))
            slot[takers] = np.maximum(slot[takers], gain)
    return sum(by_slot.values(), _none(index))


def _first(gains: Floats, index: StepIndex, group: Group, most: int) -> Sequence[int]:
    """The steps that gained most, the lower number first among equals."""
    bonus = np.array([METHOD_WEIGHT * suits(method, group.methods) for method in _METHODS])
    touched = np.flatnonzero(gains > 0)
    worth = gains[touched] + bonus[index.step_methods[touched]]
    order = np.argsort(-worth, kind="stable")[:most]
    return [int(number) for number in touched[order]]
