"""What the debrief shows: the stored marks with their points, and what was missed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.model import Entry
from casebank.encounters.models import Encounter
from casebank.encounters.queries import case_of, log_of, mark_of

DOMAIN_WORDS = {
    "coverage": "Coverage: the essential steps",
    "technique": "Technique: how they were done",
    "order": "Order: before and after",
    "interpretation": "Interpretation: signs named",
    "reasoning": "Reasoning: the differential",
    "economy": "Economy: what was unnecessary",
    "safety": "Safety",
}


@dataclass(frozen=True)
class PointShown:
    """One point of a mark with the entries behind it."""

    words: str
    earned: float
    possible: float
    entries: tuple[int, ...]

    @property
    def kind(self) -> str:
        """``good`` where everything was earned, ``care`` in part, ``bad`` where nothing was."""
        if self.possible and self.earned >= self.possible:
            return "good"
        return "care" if self.earned > 0 else "bad"


@dataclass(frozen=True)
class DomainShown:
    """A domain of the mark."""

    slug: str
    words: str
    score: float | None
    weight: float
    points: tuple[PointShown, ...]
    note: str


@dataclass(frozen=True)
class Belief:
    """A diagnosis: what was stated, what the evidence seen supports, whether it is true."""

    label: str
    stated: float
    supported: float | None
    is_true: bool


@dataclass(frozen=True)
class Missed:
    """An essential step that was not done, and what the patient would have shown."""

    label: str
    why: str
    signs: tuple[str, ...]


@dataclass(frozen=True)
class Debrief:
    """Everything the debrief page shows beside the sheet."""

    total: float
    capped_at: float | None
    version: int
    domains: tuple[DomainShown, ...]
    beliefs: tuple[Belief, ...]
    missed: tuple[Missed, ...]
    truth: tuple[str, ...]
    strength: str
    practise: str


def debrief_of(encounter: Encounter) -> Debrief:
    """The debrief of a concluded encounter."""
    case, stored = case_of(encounter), mark_of(encounter)
    domains = tuple(_domain(raw) for raw in stored.result["domains"])
    log = log_of(encounter)
    return Debrief(
        total=stored.total,
        capped_at=stored.result["capped_at"],
        version=stored.marking_version,
        domains=domains,
        beliefs=_beliefs(case, log[-1].payload),
        missed=tuple(_missed(case, log)),
        truth=tuple(case.catalogue.diagnoses[slug].label for slug in case.document.truth),
        strength=_best(domains),
        practise=_weakest(domains),
    )


def _domain(raw: Mapping[str, Any]) -> DomainShown:
    return DomainShown(
        slug=raw["domain"],
        words=DOMAIN_WORDS[raw["domain"]],
        score=raw["score"],
        weight=raw["weight"],
        points=tuple(
            PointShown(p["words"], p["earned"], p["possible"], tuple(p["entries"]))
            for p in raw["points"]
        ),
        note=raw["note"],
    )


def _beliefs(case: CompiledCase, last: Mapping[str, Any]) -> tuple[Belief, ...]:
    stated, supported = last["probabilities"], last["supported"]
    slugs = sorted({*stated, *supported}, key=lambda slug: -supported.get(slug, -1))
    return tuple(
        Belief(
            label=case.catalogue.diagnoses[slug].label,
            stated=100 * stated.get(slug, 0.0),
            supported=100 * supported[slug] if slug in supported else None,
            is_true=slug in case.document.truth,
        )
        for slug in slugs
    )


def _missed(case: CompiledCase, log: Iterable[Entry]) -> Iterable[Missed]:
    done = {entry.payload["step"] for entry in log if entry.kind == "request"}
    for item in case.document.scheme.essential:
        if item.step in done:
            continue
        signs = tuple(
            answer.says
            for finding in case.findings_by_step.get(item.step, ())
            for answer in finding.answers[:1]
            if answer.says
        )
        yield Missed(case.catalogue.steps[item.step].label, item.why, signs)


def _marked(domains: Iterable[DomainShown]) -> list[DomainShown]:
    return [domain for domain in domains if domain.score is not None and domain.weight > 0]


def _best(domains: Iterable[DomainShown]) -> str:
    marked = _marked(domains)
    return max(marked, key=lambda d: (d.score or 0, d.weight)).words if marked else ""


def _weakest(domains: Iterable[DomainShown]) -> str:
    marked = _marked(domains)
    return min(marked, key=lambda d: (d.score or 0, -d.weight)).words if marked else ""
