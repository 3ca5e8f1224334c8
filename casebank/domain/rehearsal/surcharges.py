"""How often simulated learners were charged, for which reason, and for which steps most."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import get_args

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.model import Reason
from casebank.domain.rehearsal.outcome import Charged, Outcome

REASONS: tuple[str, ...] = get_args(Reason)
LEAST_LEARNERS = 3
"""A step charged to fewer learners is chance and not the case's doing; our own choice."""
MOST_STEPS = 10


@dataclass(frozen=True)
class ReasonShare:
    """Requests of one charge reason: how many, of how many learners, their surcharge in all.

    ``per_learner`` is requests a learner by kind.
    """

    reason: str
    requests: int
    learners: int
    surcharge: float
    per_learner: Mapping[str, float]


@dataclass(frozen=True)
class StepCharged:
    """A step that at least ``LEAST_LEARNERS`` learners paid a surcharge for, of one reason."""

    step: str
    reason: str
    learners: int
    surcharge: float


def reasons(walks: Mapping[str, Sequence[Outcome]]) -> tuple[ReasonShare, ...]:
    """Every reason in its usual order, those that never fell too."""
    everyone = [one for group in walks.values() for one in group]
    return tuple(
        ReasonShare(
            reason=reason,
            requests=sum(len(_of(one, reason)) for one in everyone),
            learners=sum(bool(_of(one, reason)) for one in everyone),
            surcharge=round(sum(c.surcharge for one in everyone for c in _of(one, reason)), 2),
            per_learner={
                kind: round(sum(len(_of(one, reason)) for one in group) / len(group), 2)
                for kind, group in walks.items()
            },
        )
        for reason in REASONS
    )


def _of(one: Outcome, reason: str) -> list[Charged]:
    return [charged for charged in one.charges if charged.reason == reason]


def often_charged(case: CompiledCase, walks: Sequence[Outcome]) -> tuple[StepCharged, ...]:
    """The steps that many paid a surcharge for, the most learners first."""
    paid: dict[tuple[str, str], list[tuple[int, float]]] = defaultdict(list)
    for number, one in enumerate(walks):
        for charged in one.charges:
            if charged.surcharge > 0:
                paid[charged.step, charged.reason].append((number, charged.surcharge))
    found = [
        StepCharged(
            step=case.catalogue.steps[step].label,
            reason=reason,
            learners=len({number for number, _ in falls}),
            surcharge=round(sum(surcharge for _, surcharge in falls), 2),
        )
        for (step, reason), falls in paid.items()
    ]
    many = [one for one in found if one.learners >= LEAST_LEARNERS]
    return tuple(sorted(many, key=lambda one: (-one.learners, one.step, one.reason))[:MOST_STEPS])
