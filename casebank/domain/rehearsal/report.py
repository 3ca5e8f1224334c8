"""What a rehearsal tells its author: how each kind of learner fared, and where the case is weak.

Counts and means over simulated learners only; nothing here says anything of real students.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.labels import essential_label
from casebank.domain.rehearsal.company import KINDS, LearnerKind
from casebank.domain.rehearsal.differential import Differential, differential_of, is_truth_first
from casebank.domain.rehearsal.outcome import Outcome
from casebank.domain.rehearsal.surcharges import ReasonShare, StepCharged, often_charged, reasons
from casebank.domain.rehearsal.unreached import Unreached, unreached


@dataclass(frozen=True)
class Spread:
    """Mean, lowest and highest of a group."""

    mean: float
    low: float
    high: float


@dataclass(frozen=True)
class KindFared:
    """How the learners of one kind fared.

    Total and ``domains`` 0-100 (None: no learner gave ground for a mark); ``truth_first`` of them
    put a true diagnosis first in the end.
    """

    kind: str
    label: str
    words: str
    learners: int
    total: Spread
    domains: Mapping[str, float | None]
    minutes: Spread
    surcharge: Spread
    truth_first: int


@dataclass(frozen=True)
class CarefulFared:
    """How the examiner fared who did everything the scheme asks, well and in its usual order."""

    total: float
    domains: Mapping[str, float | None]
    minutes: float
    surcharge: float
    missed: tuple[str, ...]


@dataclass(frozen=True)
class EssentialMet:
    """An essential step: the share (0-1) of each kind that did it, and whether nobody did."""

    id: str
    label: str
    shares: Mapping[str, float]
    is_missed_by_all: bool


@dataclass(frozen=True)
class RehearsalReport:
    """Everything the page shows; plain values, so that it turns into JSON as it is."""

    learners: int
    planned_minutes: float
    surcharge_budget: float
    kinds: tuple[KindFared, ...]
    careful: CarefulFared
    essentials: tuple[EssentialMet, ...]
    findings: int
    unreached: tuple[Unreached, ...]
    reasons: tuple[ReasonShare, ...]
    often_charged: tuple[StepCharged, ...]
    differential: Differential


Walks = Mapping[str, Sequence[Outcome]]


def report_of(case: CompiledCase, walks: Walks, careful: Outcome) -> RehearsalReport:
    """Sum the walks of each kind up; ``walks`` has every kind of ``KINDS``, none of them empty."""
    everyone = [one for kind in KINDS for one in walks[kind.slug]]
    scheme = case.document.scheme
    return RehearsalReport(
        learners=len(everyone),
        planned_minutes=scheme.minutes,
        surcharge_budget=scheme.surcharge_budget,
        kinds=tuple(_fared(case, kind, walks[kind.slug]) for kind in KINDS),
        careful=_careful(case, careful),
        essentials=_essentials(case, walks),
        findings=len(case.document.findings),
        unreached=unreached(case, everyone),
        reasons=reasons(walks),
        often_charged=often_charged(case, everyone),
        differential=differential_of(case, walks, careful),
    )


def _fared(case: CompiledCase, kind: LearnerKind, walks: Sequence[Outcome]) -> KindFared:
    return KindFared(
        kind=kind.slug,
        label=kind.label,
        words=kind.words,
        learners=len(walks),
        total=_spread(walks, lambda one: one.total),
        domains={name: _domain_mean(walks, name) for name in walks[0].domains},
        minutes=_spread(walks, lambda one: one.minutes),
        surcharge=_spread(walks, lambda one: one.surcharge),
        truth_first=sum(is_truth_first(case, one.stated) for one in walks),
    )


def _spread(walks: Sequence[Outcome], of: Callable[[Outcome], float]) -> Spread:
    values = np.array([of(one) for one in walks])
    return Spread(
        round(float(values.mean()), 2), round(float(values.min()), 2), round(float(values.max()), 2)
    )


def _domain_mean(walks: Sequence[Outcome], name: str) -> float | None:
    scores = [score for one in walks if (score := one.domains[name]) is not None]
    return round(float(np.mean(scores)), 2) if scores else None


def _careful(case: CompiledCase, one: Outcome) -> CarefulFared:
    essential = case.document.scheme.essential
    return CarefulFared(
        total=round(one.total, 2),
        domains={
            name: None if score is None else round(score, 2) for name, score in one.domains.items()
        },
        minutes=round(one.minutes, 2),
        surcharge=round(one.surcharge, 2),
        missed=tuple(
            essential_label(case, item) for item in essential if item.id not in one.essentials
        ),
    )


def _essentials(case: CompiledCase, walks: Walks) -> tuple[EssentialMet, ...]:
    return tuple(
        EssentialMet(
            id=item.id,
            label=essential_label(case, item),
            shares={
                kind: round(sum(item.id in one.essentials for one in group) / len(group), 4)
                for kind, group in walks.items()
            },
            is_missed_by_all=not any(
                item.id in one.essentials for group in walks.values() for one in group
            ),
        )
        for item in case.document.scheme.essential
    )
