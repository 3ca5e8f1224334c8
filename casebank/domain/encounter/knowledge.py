"""What is known so far in an encounter, as probabilities, and what one more step would add.

Findings of one evidence group are not independent: of a group only the strongest outcome counts.
A sign that is heard or seen counts as its outcome from the moment it was given, as if it had been
perceived rightly; whether it was named right is marked apart, as interpretation.
"""

from __future__ import annotations

import functools
import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.model import State
from casebank.domain.encounter.reveal import answer_of, findings_at
from casebank.domain.evidence import Combined, combine, entropies, posterior, strengths_of
from casebank.domain.examination.model import Technique

Array = NDArray[np.float64]
Way = tuple[str, Technique]
LARGEST_TABLE = 4096
LEAST_WEIGHT = 1e-300
"""Stands for a likelihood of 0, so that an outcome that cannot happen still has a belief after."""


def outcomes_seen(state: State) -> dict[str, str]:
    """The latest informative outcome of every finding revealed so far."""
    return {
        seen.finding: seen.outcome
        for asked in state.asked
        for seen in asked.seen
        if seen.outcome is not None
    }


def supported(case: CompiledCase, state: State) -> Combined:
    """The posterior (P,) of the case's possibilities that the evidence seen so far supports."""
    seen = [
        (case.groups[finding], case.rows[finding, outcome])
        for finding, outcome in outcomes_seen(state).items()
        if (finding, outcome) in case.rows
    ]
    return combine(case.prior, seen)


def supported_diagnoses(case: CompiledCase, state: State) -> Array:
    """The same by hypothesis, (H,): diagnoses that are together share their probability."""
    return case.by_diagnosis(supported(case, state).posterior)


def information_of(case: CompiledCase, state: State, step: str, technique: Technique) -> float:
    """Bits this step, so done, is expected to add now: H(D|seen) - sum P(o|seen) H(D|seen, o).

    Only findings that this technique can decide and that have not been decided yet count.
    """
    return information_of_many(case, state, [(step, technique)])[0]


def information_of_many(case: CompiledCase, state: State, ways: Iterable[Way]) -> list[float]:
    """``information_of`` of many steps with their techniques; what is known is read once."""
    known = outcomes_seen(state)
    undecided = [_undecided(case, state, known, step, how) for step, how in ways]
    if not any(undecided):
        return [0.0] * len(undecided)
    held = _held(case, known)
    return [_expected_bits(case, held, findings) if findings else 0.0 for findings in undecided]


def information_of_catalogue(case: CompiledCase, state: State) -> dict[str, float]:
    """Bits of every step of the catalogue, done the usual way."""
    steps = case.catalogue.steps
    ways = [(slug, steps[slug].full_technique({})) for slug in case.findings_by_step]
    told = zip(case.findings_by_step, information_of_many(case, state, ways), strict=True)
    return {**dict.fromkeys(steps, 0.0), **dict(told)}


def _undecided(
    case: CompiledCase, state: State, known: Mapping[str, str], step: str, technique: Technique
) -> list[str]:
    return [
        finding.id
        for finding in findings_at(case, step, state.stage)
        if finding.id in case.tables
        and finding.id not in known
        and answer_of(case, finding, technique).outcome is not None
    ]


@dataclass(frozen=True, eq=False)
class _Held:
    """What is known: the row (P,) that counts for each group, and the belief (P,) they support."""

    rows: Mapping[str, Array]
    belief: Array


def _held(case: CompiledCase, known: Mapping[str, str]) -> _Held:
    by_group: dict[str, list[Array]] = defaultdict(list)
    for finding, outcome in known.items():
        if (finding, outcome) in case.rows:
            by_group[_group(case, finding)].append(case.rows[finding, outcome])
    rows = {group: _that_counts(case, found) for group, found in by_group.items()}
    return _Held(rows, posterior(case.prior, list(rows.values())))


def _group(case: CompiledCase, finding: str) -> str:
    return case.groups[finding] or f"alone:{finding}"


def _that_counts(case: CompiledCase, rows: Sequence[Array]) -> Array:
    """The row that speaks for its group, by the same rule as ``evidence.combine``."""
    if len(rows) == 1:
        return rows[0]
    return rows[int(np.argmax(strengths_of(case.prior, np.array(rows))))]


def _expected_bits(case: CompiledCase, held: _Held, findings: Sequence[str]) -> float:
    by_group: dict[str, list[str]] = defaultdict(list)
    for finding in findings:
        by_group[_group(case, finding)].append(finding)
    apart = [row for group, row in held.rows.items() if group not in by_group]
    base = posterior(case.prior, apart) if len(apart) < len(held.rows) else held.belief
    chance, weight = np.ones((1, len(base))), np.ones((1, len(base)))
    for group, members in by_group.items():
        tables = [case.tables[finding] for finding in members]
        if len(chance) * math.prod(len(table) for table in tables) > LARGEST_TABLE:
            break
        group_chance, group_weight = _group_table(case, tables, held.rows.get(group))
        chance, weight = _outer(chance, group_chance), _outer(weight, group_weight)
    after = base * weight
    after /= after.sum(axis=1, keepdims=True)
    fall = entropies(held.belief) - (chance @ held.belief) @ entropies(after)
    return max(0.0, float(fall))


def _outer(left: Array, right: Array) -> Array:
    return (left[:, None, :] * right[None, :, :]).reshape(-1, left.shape[1])


def _group_table(
    case: CompiledCase, tables: Sequence[Array], seen: Array | None
) -> tuple[Array, Array]:
    """For each joint outcome (J, P) of a group's open findings: its chance, the row that counts."""
    chance = functools.reduce(_outer, tables)
    candidates = list(tables) if seen is None else [seen[np.newaxis], *tables]
    if len(candidates) == 1:
        return chance, np.maximum(chance, LEAST_WEIGHT)
    places = np.indices([len(table) for table in candidates]).reshape(len(candidates), -1)
    rows = np.stack([table[place] for table, place in zip(candidates, places, strict=True)])
    strengths = strengths_of(case.prior, rows.reshape(-1, rows.shape[-1])).reshape(places.shape)
    weight = rows[strengths.argmax(axis=0), np.arange(places.shape[1])]
    return chance, np.maximum(weight, LEAST_WEIGHT)
