"""The stored mark as shown: domains and points, read from ``Mark.result`` alone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from casebank.domain.marking.model import Record
from casebank.encounters.debriefing.shapes import DomainShown, PointShown

DOMAIN_WORDS = {
    "coverage": "Coverage: the essential steps",
    "technique": "Technique: how they were done",
    "order": "Order: before and after",
    "interpretation": "Interpretation: signs named",
    "reasoning": "Reasoning: the differential",
    "economy": "Economy: what was unnecessary",
    "safety": "Safety",
}


Rows = Mapping[int, int]
"""Log positions without a row of their own (readings) to the row they are shown with."""


def domains_of(result: Mapping[str, Any], rows: Rows) -> tuple[DomainShown, ...]:
    """The domains of a stored result; a domain this page has no words for keeps its own name."""
    return tuple(_domain(raw, rows) for raw in result["domains"])


def rows_of_readings(record: Record) -> Rows:
    """Each reading's log position to that of the request whose sign it names."""
    return {line.seq: line.payload["entry"] for line in record.lines if line.kind == "reading"}


def _domain(raw: Mapping[str, Any], rows: Rows) -> DomainShown:
    slug = raw["domain"]
    return DomainShown(
        slug=slug,
        words=DOMAIN_WORDS.get(slug, slug.capitalize()),
        score=raw["score"],
        weight=raw["weight"],
        points=tuple(
            _point(slug, place, p, rows) for place, p in enumerate(raw["points"], start=1)
        ),
        note=raw["note"],
    )


def _point(slug: str, place: int, raw: Mapping[str, Any], rows: Rows) -> PointShown:
    return PointShown(
        words=raw["words"],
        earned=raw["earned"],
        possible=raw["possible"],
        entries=tuple(dict.fromkeys(rows.get(seq, seq) for seq in raw["entries"])),
        anchor=f"point-{slug}-{place}",
    )
