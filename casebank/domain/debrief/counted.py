"""Which findings counted towards the posterior, and which did not because a stronger one spoke.

A finding got twice counts once, with what it showed last, as the posterior does.
"""

from __future__ import annotations

from dataclasses import dataclass

from casebank.domain.casefile.compile import CompiledCase, Floats
from casebank.domain.encounter.knowledge import outcomes_seen
from casebank.domain.evidence import combine
from casebank.domain.marking.model import Record

SMALLEST_LIKELIHOOD = 1e-12
"""Stands for a likelihood of 0, so that the factor stays a number."""


@dataclass(frozen=True)
class Weighed:
    """One informative finding: where it was seen, its group, whether it counted.

    ``factor`` is how many times likelier its outcome is under the hypothesis it favours most than
    under the one it favours least. ``instead`` is the finding that counted for its group.
    ``assumed`` is what the case says it took for granted to turn its numbers into likelihoods.
    """

    finding: str
    seq: int
    outcome: str
    group: str | None
    is_counted: bool
    factor: float
    instead: str | None
    source: str
    assumed: str = ""


def weighed(case: CompiledCase, record: Record) -> tuple[Weighed, ...]:
    """Every finding that bears on the differential, in the order seen."""
    known = [
        (finding, outcome)
        for finding, outcome in outcomes_seen(record.state).items()
        if (finding, outcome) in case.rows
    ]
    combined = combine(case.prior, [(case.groups[f], case.rows[f, o]) for f, o in known])
    speaker = {case.groups[known[i][0]]: known[i][0] for i in combined.counted}
    return tuple(
        _weighed(case, record, finding, outcome, place in combined.counted, speaker)
        for place, (finding, outcome) in enumerate(known)
    )


def _weighed(
    case: CompiledCase,
    record: Record,
    finding: str,
    outcome: str,
    is_counted: bool,
    speaker: dict[str | None, str],
) -> Weighed:
    evidence = next(f.evidence for f in case.document.findings if f.id == finding)
    group = case.groups[finding]
    return Weighed(
        finding=finding,
        seq=seen_at(record, finding),
        outcome=outcome,
        group=group,
        is_counted=is_counted,
        factor=_factor(case.rows[finding, outcome]),
        instead=None if is_counted else speaker[group],
        source=evidence.source if evidence else "",
        assumed=evidence.assumed if evidence else "",
    )


def _factor(row: Floats) -> float:
    """How many times likelier the outcome is under one hypothesis than under another, at most."""
    return float(row.max() / max(float(row.min()), SMALLEST_LIKELIHOOD))


def seen_at(record: Record, finding: str) -> int:
    """The log position at which a finding last told something."""
    return max(
        asked.seq
        for asked in record.state.asked
        for seen in asked.seen
        if seen.finding == finding and seen.outcome is not None
    )
