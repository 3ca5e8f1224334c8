"""What is known so far in an encounter, as probabilities, and what one more step would add.

Findings of one evidence group are not independent: of a group only the strongest outcome counts.
A sign that is heard or seen counts as its outcome from the moment it was given, as if it had been
perceived rightly; whether it was named right is marked apart, as interpretation.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.model import State
from casebank.domain.encounter.reveal import answer_of, findings_at
from casebank.domain.evidence import Combined, combine, entropies, entropy, strengths_of
from casebank.domain.examination.model import Technique

Array = NDArray[np.float64]
LARGEST_TABLE = 4096


def outcomes_seen(state: State) -> dict[str, str]:
    """The latest informative outcome of every finding revealed so far."""
    return {
        seen.finding: seen.outcome
        for asked in state.asked
        for seen in asked.seen
        if seen.outcome is not None
    }


def supported(case: CompiledCase, state: State) -> Combined:
    """The posterior that the evidence seen so far supports."""
    seen = [
        (case.groups[finding], case.rows[finding, outcome])
        for finding, outcome in outcomes_seen(state).items()
        if (finding, outcome) in case.rows
    ]
    return combine(case.prior, seen)


def information_of(case: CompiledCase, state: State, step: str, technique: Technique) -> float:
    """Bits this step, so done, is expected to add now: H(D|seen) - sum P(o|seen) H(D|seen, o).

    Only findings that this technique can decide and that have not been decided yet count.
    """
    known = outcomes_seen(state)
    open_findings = [
        finding.id
        for finding in findings_at(case, step, state.stage)
        if finding.id in case.tables
        and finding.id not in known
        and answer_of(case, finding, technique).outcome is not None
    ]
    if not open_findings:
        return 0.0
    return _expected_bits(case, known, open_findings)


def _expected_bits(case: CompiledCase, known: dict[str, str], findings: Sequence[str]) -> float:
    by_group: dict[str, list[str]] = defaultdict(list)
    for finding in findings:
        by_group[case.groups[finding] or f"alone:{finding}"].append(finding)
    base, belief = _belief_without(case, known, set(by_group))
    chance, weight = np.ones((1, len(belief))), np.ones((1, len(belief)))
    for group, members in by_group.items():
        group_chance, group_weight = _group_table(case, members, _strongest(case, known, group))
        if len(chance) * len(group_chance) > LARGEST_TABLE:
            break
        chance, weight = _outer(chance, group_chance), _outer(weight, group_weight)
    after = base * weight
    after /= after.sum(axis=1, keepdims=True)
    return max(0.0, float(entropy(belief) - (chance @ belief) @ entropies(after)))


def _outer(left: Array, right: Array) -> Array:
    return (left[:, None, :] * right[None, :, :]).reshape(-1, left.shape[1])


def _belief_without(
    case: CompiledCase, known: dict[str, str], touched: set[str]
) -> tuple[Array, Array]:
    """The prior times the evidence of untouched groups, and the whole present belief."""
    rows = [(case.groups[f] or f"alone:{f}", case.rows[f, o]) for f, o in known.items()
            if (f, o) in case.rows]  # fmt: skip
    base = combine(case.prior, [(g, row) for g, row in rows if g not in touched]).posterior
    belief = combine(case.prior, rows).posterior
    return base, belief


def _strongest(case: CompiledCase, known: dict[str, str], group: str) -> Array | None:
    rows = [case.rows[f, o] for f, o in known.items()
            if case.groups.get(f) == group and (f, o) in case.rows]  # fmt: skip
    return _that_counts(case, rows) if rows else None


def _that_counts(case: CompiledCase, rows: Sequence[Array]) -> Array:
    """The row that speaks for its group, by the same rule as ``evidence.combine``."""
    return rows[int(np.argmax(strengths_of(case.prior, np.array(rows))))]


def _group_table(
    case: CompiledCase, members: Sequence[str], seen: Array | None
) -> tuple[Array, Array]:
    """For each joint outcome of a group's open findings: its chance, and the row that counts."""
    chances, weights = [], []
    for rows in itertools.product(*(case.tables[finding] for finding in members)):
        chances.append(np.prod(rows, axis=0))
        weights.append(_that_counts(case, rows if seen is None else [seen, *rows]))
    return np.array(chances), np.maximum(np.array(weights), 1e-300)
