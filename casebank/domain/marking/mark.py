"""The marking: replays a log and marks it, the same for ever under one marking version."""

from __future__ import annotations

from collections.abc import Iterable

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.engine import replay
from casebank.domain.encounter.model import Entry
from casebank.domain.marking.doing import coverage, order, technique
from casebank.domain.marking.model import DomainMark, Line, Marks, Record
from casebank.domain.marking.thinking import cap, economy, reasoning, safety

MARKING_VERSION = 1


def mark(case: CompiledCase, entries: Iterable[Entry]) -> Marks:
    """Replay the log and mark it; stored charges and sums are not used."""
    record = replayed(case, tuple(entries))
    domains = (
        coverage(case, record),
        technique(case, record),
        order(case, record),
        reasoning(case, record),
        economy(case, record),
        safety(case, record),
    )
    capped_at = cap(case, record)
    total = weighted_total(domains)
    return Marks(
        version=MARKING_VERSION,
        total=round(min(total, capped_at) if capped_at is not None else total, 4),
        domains=domains,
        capped_at=capped_at,
    )


def replayed(case: CompiledCase, entries: tuple[Entry, ...]) -> Record:
    """The record of a log, worked through again."""
    state, payloads = replay(case, entries)
    lines = tuple(
        Line(entry.seq, entry.kind, payload)
        for entry, payload in zip(entries, payloads, strict=True)
    )
    return Record(state, lines)


def weighted_total(domains: Iterable[DomainMark]) -> float:
    """The weighted mean of the domains that could be marked, 0-100."""
    marked = [(d.score, d.weight) for d in domains if d.score is not None]
    weights = sum(weight for _, weight in marked)
    return sum(score * weight for score, weight in marked) / weights if weights else 0.0
