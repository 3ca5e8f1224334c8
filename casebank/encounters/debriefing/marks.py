"""The stored mark as shown: domains and points, read from ``Mark.result`` alone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

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


def domains_of(result: Mapping[str, Any]) -> tuple[DomainShown, ...]:
    """The domains of a stored result; a domain this page has no words for keeps its own name."""
    return tuple(_domain(raw) for raw in result["domains"])


def _domain(raw: Mapping[str, Any]) -> DomainShown:
    slug = raw["domain"]
    return DomainShown(
        slug=slug,
        words=DOMAIN_WORDS.get(slug, slug.capitalize()),
        score=raw["score"],
        weight=raw["weight"],
        points=tuple(_point(slug, place, p) for place, p in enumerate(raw["points"], start=1)),
        note=raw["note"],
    )


def _point(slug: str, place: int, raw: Mapping[str, Any]) -> PointShown:
    return PointShown(
        words=raw["words"],
        earned=raw["earned"],
        possible=raw["possible"],
        entries=tuple(raw["entries"]),
        anchor=f"point-{slug}-{place}",
    )
