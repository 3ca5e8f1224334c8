"""The marking: replays a log and marks it, the same for ever under one marking version.

Version 1 marks coverage, technique, order, reasoning, economy and safety. Version 2 adds
interpretation, judges order by the scheme's partial order, says how confidence stood against the
evidence and how a contraindicated step caps the total, and links every point to an entry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.engine import replay
from casebank.domain.encounter.model import Entry
from casebank.domain.marking import doing, judgement, ordering, thinking
from casebank.domain.marking.interpretation import interpretation
from casebank.domain.marking.model import DomainMark, Line, Marks, Record

MARKING_VERSION = 2
"""The version that a conclusion is marked by."""

Marker = Callable[[CompiledCase, Record], DomainMark]
MARKERS: dict[int, tuple[Marker, ...]] = {
    1: (
        doing.coverage,
        doing.technique,
        doing.order,
        thinking.reasoning,
        thinking.economy,
        thinking.safety,
    ),
    2: (
        doing.coverage,
        doing.technique,
        ordering.order,
        interpretation,
        judgement.reasoning,
        thinking.economy,
        judgement.safety,
    ),
}
"""What each version marks. A version that marks were stored under is never changed."""


def mark(case: CompiledCase, entries: Iterable[Entry], version: int = MARKING_VERSION) -> Marks:
    """Replay the log and mark it; stored charges and sums are not used.

    Raises ValueError for a version there never was.
    """
    if version not in MARKERS:
        known = ", ".join(map(str, MARKERS))
        raise ValueError(f"There is no marking version {version}; choose one of {known}.")
    record = replayed(case, tuple(entries))
    domains = tuple(marker(case, record) for marker in MARKERS[version])
    if version > 1:
        domains = tuple(linked(domain, record) for domain in domains)
    capped_at = thinking.cap(case, record)
    total = weighted_total(domains)
    return Marks(
        version=version,
        total=round(min(total, capped_at) if capped_at is not None else total, 4),
        domains=domains,
        capped_at=capped_at,
    )


def linked(domain: DomainMark, record: Record) -> DomainMark:
    """The domain with what was never done linked to the entry at which it was still missing."""
    last = tuple(line.seq for line in record.lines[-1:])
    points = tuple(one if one.entries else replace(one, entries=last) for one in domain.points)
    return replace(domain, points=points)


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
