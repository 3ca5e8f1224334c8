"""The stored mark as shown: domains and points, read from ``Mark.result`` alone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.examination.conditions import in_words
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


def domains_of(
    case: CompiledCase, result: Mapping[str, Any], rows: Rows
) -> tuple[DomainShown, ...]:
    """The domains of a stored result; a domain this page has no words for keeps its own name.

    A stored mark is never changed: what its words leave in the language of conditions is put into
    words here.
    """
    plain = _plain_words(case)
    return tuple(_domain(raw, rows, plain) for raw in result["domains"])


def _plain_words(case: CompiledCase) -> Mapping[str, str]:
    """The sentences of the technique mark, each with the same in the catalogue's words."""
    plain = {}
    for item in case.document.scheme.essential:
        start = f"{case.catalogue.steps[item.step].label}, best done with "
        stored = ", ".join(f"{slot} {condition}" for slot, condition in item.well.items())
        said = in_words(item.well, case.catalogue)
        plain[f"{start}{stored}."] = f"{start.removesuffix(', best done with ')}. Best: {said}."
    return plain


def rows_of_readings(record: Record) -> Rows:
    """Each reading's log position to that of the request whose sign it names."""
    return {line.seq: line.payload["entry"] for line in record.lines if line.kind == "reading"}


def _domain(raw: Mapping[str, Any], rows: Rows, plain: Mapping[str, str]) -> DomainShown:
    slug = raw["domain"]
    return DomainShown(
        slug=slug,
        words=DOMAIN_WORDS.get(slug, slug.capitalize()),
        score=raw["score"],
        weight=raw["weight"],
        points=tuple(
            _point(slug, place, p, rows, plain) for place, p in enumerate(raw["points"], start=1)
        ),
        note=raw["note"],
    )


def _point(
    slug: str, place: int, raw: Mapping[str, Any], rows: Rows, plain: Mapping[str, str]
) -> PointShown:
    return PointShown(
        words=plain.get(raw["words"], raw["words"]),
        earned=raw["earned"],
        possible=raw["possible"],
        entries=tuple(dict.fromkeys(rows.get(seq, seq) for seq in raw["entries"])),
        anchor=f"point-{slug}-{place}",
    )
