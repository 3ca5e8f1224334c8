"""Sums up a person's concluded encounters: marks, systems, calibration, what to practise."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from django.utils import timezone

from accounts.models import User
from casebank.cases.library import compiled_version
from casebank.domain.debrief.forecasts import Calibration, Forecast, calibration_of, forecasts_of
from casebank.domain.debrief.items import ItemDone, items_done
from casebank.domain.examination.model import Step
from casebank.domain.psychometrics.proportion import wilson
from casebank.domain.scheduling import DONE_WELL, Practice, grade_of, in_order, practice_of
from casebank.encounters.debriefing.marks import DOMAIN_WORDS
from casebank.encounters.progress import queries
from casebank.encounters.progress.drawing import calibration_chart, marks_chart
from casebank.encounters.progress.queries import Concluded
from casebank.encounters.progress.shapes import (
    DomainMean,
    EncounterRow,
    PracticeShown,
    Progress,
    SystemShare,
)

MOST_PRACTICES = 12


@dataclass(frozen=True)
class Attempt:
    """An item of a scheme that one encounter wanted, and what became of it."""

    encounter: UUID
    on: date
    step: Step
    done: ItemDone


def progress_of(user: User, today: date) -> Progress:
    """The progress of this person, from their own encounters alone."""
    encounters, left_out = queries.concluded_of(user)
    ids = [one.pk for one in encounters]
    rows = _rows(encounters, queries.marks_of(ids), queries.adjusted_of(ids))
    attempts = list(_attempts(encounters, queries.requests_of(ids)))
    calibration = _calibration(encounters, queries.conclusions_of(ids))
    return Progress(
        rows=rows,
        domains=_domains(rows),
        systems=_systems(attempts),
        calibration=calibration,
        practices=_practices(attempts, today),
        marks_chart=marks_chart(rows),
        calibration_chart=calibration_chart(calibration),
        left_out=left_out,
    )


def _rows(
    encounters: Sequence[Concluded],
    marks: Mapping[UUID, tuple[float, Mapping[str, Any]]],
    adjusted: Mapping[UUID, float],
) -> tuple[EncounterRow, ...]:
    return tuple(
        EncounterRow(
            pk=one.pk,
            title=one.title,
            concluded_at=one.concluded_at,
            total=marks[one.pk][0],
            adjusted=adjusted.get(one.pk),
            scores=_scores(marks[one.pk][1]),
        )
        for one in encounters
        if one.pk in marks
    )


def _scores(result: Mapping[str, Any]) -> tuple[float | None, ...]:
    by_domain = {domain["domain"]: domain["score"] for domain in result["domains"]}
    return tuple(by_domain.get(slug) for slug in DOMAIN_WORDS)


def _domains(rows: Sequence[EncounterRow]) -> tuple[DomainMean, ...]:
    found = []
    for place, words in enumerate(DOMAIN_WORDS.values()):
        scores = [score for row in rows if (score := row.scores[place]) is not None]
        mean = sum(scores) / len(scores) if scores else None
        found.append(DomainMean(words, len(scores), mean, scores[-1] if scores else None))
    return tuple(found)


def _attempts(
    encounters: Sequence[Concluded], requests: Mapping[UUID, list[dict[str, Any]]]
) -> Iterator[Attempt]:
    for one in encounters:
        case = compiled_version(one.version_id)
        on = timezone.localtime(one.concluded_at).date()
        for done in items_done(case, requests.get(one.pk, ())):
            yield Attempt(one.pk, on, case.catalogue.steps[done.item.step], done)


def _systems(attempts: Sequence[Attempt]) -> tuple[SystemShare, ...]:
    by_system: dict[str, list[bool]] = defaultdict(list)
    for one in attempts:
        by_system[one.step.system].append(one.done.is_done)
    shares = (_share(system, done) for system, done in by_system.items())
    return tuple(sorted(shares, key=lambda share: (share.percent, share.system)))


def _share(system: str, done: Sequence[bool]) -> SystemShare:
    low, high = wilson(sum(done), len(done))
    percent = 100 * sum(done) / len(done)
    return SystemShare(system, sum(done), len(done), percent, 100 * low, 100 * high)


def _calibration(
    encounters: Sequence[Concluded], conclusions: Mapping[UUID, Mapping[str, float]]
) -> Calibration | None:
    forecasts: list[Forecast] = []
    for one in encounters:
        case = compiled_version(one.version_id)
        stated = conclusions.get(one.pk, {})
        forecasts.extend(forecasts_of(case.hypotheses, stated, case.document.truth))
    return calibration_of(forecasts)


def _practices(attempts: Sequence[Attempt], today: date) -> tuple[PracticeShown, ...]:
    """Steps that were ever missed or done less well, the soonest due first."""
    labels = {one.step.slug: one.step.label for one in attempts}
    weak = (
        practice_of(step, dated)
        for step, dated in _grades(attempts).items()
        if min(grade for _, grade in dated) < DONE_WELL
    )
    ordered = in_order(weak)[:MOST_PRACTICES]
    return tuple(_practice(one, labels[one.step], today) for one in ordered)


def _grades(attempts: Sequence[Attempt]) -> dict[str, list[tuple[date, int]]]:
    """One grade a step and encounter: the worst, where a scheme wants a step more than once."""
    worst: dict[tuple[str, UUID], tuple[date, int]] = {}
    for one in attempts:
        grade = grade_of(is_done=one.done.is_done, is_well=one.done.is_well)
        key = one.step.slug, one.encounter
        worst[key] = min(worst.get(key, (one.on, grade)), (one.on, grade))
    grades: dict[str, list[tuple[date, int]]] = defaultdict(list)
    for (step, _), dated in worst.items():
        grades[step].append(dated)
    return grades


def _practice(one: Practice, label: str, today: date) -> PracticeShown:
    return PracticeShown(one.step, label, one.missed, one.wanted, one.due, one.days_left(today))
