"""Puts a debrief together from the log, the stored mark and what tutors added."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import get_args

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.debrief.certainty import Certainty, certainty_of
from casebank.domain.debrief.counted import Weighed, weighed
from casebank.domain.debrief.trajectory import Trajectory, trajectory
from casebank.domain.encounter.model import Entry as LogEntry
from casebank.domain.encounter.model import Kind
from casebank.domain.marking.mark import replayed
from casebank.domain.marking.model import Record
from casebank.encounters.debriefing import doing, thinking
from casebank.encounters.debriefing.advice import Ground, practise_of, strength_of
from casebank.encounters.debriefing.hearing import Hearing
from casebank.encounters.debriefing.marks import domains_of, rows_of_readings
from casebank.encounters.debriefing.queries import adjustments_of, comments_of
from casebank.encounters.debriefing.shapes import Belief, Debrief, DomainShown
from casebank.encounters.debriefing.stepwise import steps_shown
from casebank.encounters.models import Encounter
from casebank.encounters.queries import case_of, log_of, mark_of


@dataclass(frozen=True)
class Replay:
    """A concluded encounter worked through again."""

    case: CompiledCase
    record: Record
    run: Trajectory
    found: tuple[Weighed, ...]
    certainty: Certainty
    log: tuple[LogEntry, ...]


def replay_of(encounter: Encounter, log: Sequence[LogEntry]) -> Replay:
    """Replay this log; entries of a kind the engine does not know are passed over."""
    case = case_of(encounter)
    known = tuple(entry for entry in log if entry.kind in get_args(Kind))
    record = replayed(case, known)
    found = weighed(case, record)
    return Replay(case, record, trajectory(case, record), found, certainty_of(case, found), known)


def debrief_of(encounter: Encounter, log: Sequence[LogEntry] | None = None) -> Debrief:
    """The debrief of a concluded encounter; ``log`` where the caller has read it already."""
    return debrief_from(
        encounter, replay_of(encounter, log if log is not None else log_of(encounter))
    )


def debrief_from(encounter: Encounter, replay: Replay) -> Debrief:
    """The debrief from an encounter's replay."""
    case, record, stored = replay.case, replay.record, mark_of(encounter)
    domains = domains_of(case, stored.result, rows_of_readings(record))
    beliefs = thinking.beliefs_shown(case, replay.run, replay.certainty)
    ground = _ground(encounter, replay, domains, beliefs)
    return Debrief(
        total=stored.total,
        capped_at=stored.result["capped_at"],
        version=stored.marking_version,
        domains=domains,
        beliefs=beliefs,
        missed=tuple(ground.missed),
        truth=tuple(case.catalogue.diagnoses[slug].label for slug in case.document.truth),
        strength=strength_of(domains),
        practise=practise_of(domains, ground),
        side_by_side=tuple(ground.beside),
        surcharges=tuple(ground.surcharges),
        pairs=tuple(ground.pairs),
        evidence=thinking.evidence_shown(case, replay.found, replay.certainty.without),
        next_steps=thinking.next_shown(case, record.state),
        without_interval=thinking.names_of(case, replay.certainty.without),
        comments=comments_of(encounter),
        adjustments=adjustments_of(encounter),
        presentation=thinking.presentation_shown(case),
        together=thinking.together_shown(case),
        steps=steps_shown(case, record, replay.run),
    )


def _ground(
    encounter: Encounter,
    replay: Replay,
    domains: tuple[DomainShown, ...],
    beliefs: tuple[Belief, ...],
) -> Ground:
    case, record = replay.case, replay.record
    hearing = Hearing(encounter, case, replay.log)
    return Ground(
        missed=doing.missed_shown(case, record, hearing),
        beside=doing.side_by_side(case, record, hearing),
        pairs=doing.pairs_shown(case, record, domains),
        surcharges=doing.surcharges_shown(case, record),
        beliefs=beliefs,
    )
