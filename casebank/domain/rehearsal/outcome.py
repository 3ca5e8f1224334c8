"""What one walk came to: marks, minutes, charges, and which findings and essentials it met."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Finding
from casebank.domain.debrief.items import items_done
from casebank.domain.encounter.model import Entry
from casebank.domain.encounter.reveal import findings_at
from casebank.domain.marking import mark
from casebank.domain.marking.model import Payload

NOTICED = ("clear", "faint")


@dataclass(frozen=True)
class Charged:
    """A request's step, the reason of its charge, and its surcharge in price units."""

    step: str
    reason: str
    surcharge: float


@dataclass(frozen=True)
class Outcome:
    """One learner's walk. ``domains`` are scores 0-100, None where there was no ground for one.

    ``stages`` are those in which anything was asked; ``touched`` the findings whose step was done
    while they hold, ``reached`` those of them that showed; ``essentials`` the ids of the essential
    steps done; ``stated`` and ``supported`` the final differential and what the same evidence
    supports, by diagnosis.
    """

    total: float
    domains: Mapping[str, float | None]
    minutes: float
    surcharge: float
    charges: tuple[Charged, ...]
    stages: frozenset[str]
    touched: frozenset[str]
    reached: frozenset[str]
    essentials: frozenset[str]
    stated: Mapping[str, float]
    supported: Mapping[str, float]


def outcome_of(case: CompiledCase, entries: Sequence[Entry]) -> Outcome:
    """Mark a walk and read off what it met; ``entries`` end with the conclusion."""
    marks, last = mark(case, entries), entries[-1].payload
    requests = [entry.payload for entry in entries if entry.kind == "request"]
    charges = tuple(
        Charged(one["step"], one["charge"]["reason"], one["charge"]["surcharge"])
        for one in requests
    )
    done = items_done(case, requests)
    return Outcome(
        total=marks.total,
        domains={one.domain: one.score for one in marks.domains},
        minutes=last["minute"],
        surcharge=round(sum(one.surcharge for one in charges), 6),
        charges=charges,
        stages=frozenset(one["stage"] for one in requests),
        touched=frozenset(
            finding.id
            for one in requests
            for finding in findings_at(case, one["step"], one["stage"])
        ),
        reached=_reached(case, requests),
        essentials=frozenset(one.item.id for one in done if one.is_done),
        stated=last["probabilities"],
        supported=last["supported"],
    )


def can_show(finding: Finding) -> bool:
    """Whether any technique shows it; one that is only ever absent is reached by looking."""
    return any(answer.strength in NOTICED for answer in finding.answers)


def _reached(case: CompiledCase, requests: Sequence[Payload]) -> frozenset[str]:
    findings = {finding.id: finding for finding in case.document.findings}
    return frozenset(
        seen["finding"]
        for one in requests
        for seen in one["seen"]
        if seen["strength"] in NOTICED or not can_show(findings[seen["finding"]])
    )
