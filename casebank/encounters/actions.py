"""Writes encounters: begin, ask, name what was perceived, state a differential, conclude.

Each locks the encounter's row, asks the domain, appends to the log and updates the cached state,
in one transaction. A key that was used before gives the entry it made then.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.http import Http404
from django.utils import timezone

from accounts.models import User
from casebank.audit.actions import record
from casebank.cases.library import compiled_version
from casebank.cases.models import CaseVersion
from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter import engine
from casebank.domain.encounter import naming as engine_naming
from casebank.domain.encounter.codec import state_from_json, state_to_json
from casebank.domain.encounter.model import Entry as LogEntry
from casebank.domain.encounter.model import Kind, Request, State
from casebank.domain.encounter.naming import medium_read
from casebank.domain.marking import MARKING_VERSION, mark
from casebank.encounters import statements
from casebank.encounters.models import Encounter, Mark
from casebank.encounters.naming import named
from casebank.encounters.queries import entries_with_key, last_reading, log_of
from casebank.encounters.reading import Say

Change = Callable[[CompiledCase, State], tuple[dict[str, Any], State]]
Changes = Callable[[CompiledCase, State], Sequence[Change]]
MOST = 40
"""The most entries one submission makes; no composite has more parts."""


def begin(*, version: CaseVersion, by: User, cued: bool = True) -> Encounter:
    """Open an encounter with a published version, or return the one already open."""
    case = compiled_version(version.pk)
    with transaction.atomic():
        encounter, made = Encounter.objects.get_or_create(
            student=by,
            version=version,
            concluded_at=None,
            defaults={"live": state_to_json(engine.open_state(case)), "cued": cued},
        )
        if made:
            record(name="encounter_begun", subject=encounter, by=by)
    return encounter


def ask(
    *, encounter_id: UUID, say: Say, by: User, key: str = ""
) -> tuple[Encounter, list[LogEntry]]:
    """Make the requests that ``say`` reads, in order, all or none; one key never charges twice.

    The words are read under the lock, because some mean something only after the last request.
    """

    def changes(case: CompiledCase, state: State) -> list[Change]:
        return [_asking(request) for request in say(case.catalogue, state)]

    return _append(encounter_id, "request", changes, by, key)


def _asking(request: Request) -> Change:
    return lambda case, state: engine.answer(case, state, request)


def state_differential(
    *, encounter_id: UUID, probabilities: Mapping[str, float], by: User, key: str = ""
) -> tuple[Encounter, list[LogEntry]]:
    """Log a working differential."""

    def change(case: CompiledCase, state: State) -> tuple[dict[str, Any], State]:
        return engine.state_differential(case, state, probabilities)

    return _append(encounter_id, "differential", lambda *_: [change], by, key)


def read_finding(
    *, encounter_id: UUID, entry: int, medium: int, text: str, by: User, key: str = ""
) -> tuple[Encounter, list[LogEntry]]:
    """Log what the student says a perceived sign is; the same words again change nothing.

    AskedBack where the words name nothing, or several things; EncounterError where there is
    nothing to name, or the encounter is concluded.
    """

    def changes(case: CompiledCase, state: State) -> list[Change]:
        heard = medium_read(case, state, entry, medium)
        before = last_reading(encounter_id, entry, medium)
        if before is not None and before.payload["text"] == text:
            return []
        reading = named(text, case.catalogue, heard, entry, medium)
        return [lambda case, state: engine_naming.read_finding(case, state, reading)]

    encounter, entries = _append(encounter_id, "reading", changes, by, key)
    standing = last_reading(encounter_id, entry, medium)
    return encounter, entries or ([standing] if standing else [])


def conclude(
    *,
    encounter_id: UUID,
    probabilities: Mapping[str, float],
    summary: str,
    plan: str,
    by: User,
    key: str = "",
) -> tuple[Encounter, list[LogEntry]]:
    """Commit to the final differential; marks are computed in the same transaction."""

    def change(case: CompiledCase, state: State) -> tuple[dict[str, Any], State]:
        return engine.conclude(case, state, probabilities, summary, plan)

    return _append(encounter_id, "conclusion", lambda *_: [change], by, key)


def _append(
    encounter_id: UUID, kind: Kind, changes: Changes, by: User, key: str
) -> tuple[Encounter, list[LogEntry]]:
    try:
        with transaction.atomic():
            encounter = _locked(encounter_id, by)
            entries = _apply(encounter, kind, changes, key)
    except IntegrityError:
        if not key:
            raise
        return _already_made(encounter_id, by, key)
    return encounter, entries


def _locked(encounter_id: UUID, by: User) -> Encounter:
    found = statements.lock(encounter_id, by.pk)
    if found is None:
        raise Http404
    return found


def _apply(encounter: Encounter, kind: Kind, changes: Changes, key: str) -> list[LogEntry]:
    case = compiled_version(encounter.version_id)
    state, lines = state_from_json(encounter.live), []
    for place, change in enumerate(changes(case, state)):
        payload, state = change(case, state)
        lines.append(statements.Line(state.last_seq, entry_key(key, place), payload))
    _hold(encounter, state)
    statements.append(encounter, kind, lines)
    if state.concluded:
        _mark(encounter, case)
    return [LogEntry(line.seq, kind, line.payload) for line in lines]


def _hold(encounter: Encounter, state: State) -> None:
    """Copy the state into the row's cached columns."""
    encounter.live = state_to_json(state)
    encounter.last_seq = state.last_seq
    encounter.minutes = state.minute
    encounter.surcharge = state.surcharge
    encounter.concluded_at = timezone.now() if state.concluded else None


def remark(*, encounter: Encounter, version: int, by: User | None) -> bool:
    """Mark a concluded encounter by a marking version as well; whether that was new.

    Marks that stand are never changed. ValueError for an open encounter or an unknown version.
    """
    if encounter.concluded_at is None:
        raise ValueError(f"Encounter {encounter.pk} is not concluded; only then can it be marked.")
    if encounter.marks.filter(marking_version=version).exists():
        return False
    with transaction.atomic():
        made = _mark(encounter, compiled_version(encounter.version_id), version)
        record(name="encounter_marked", subject=encounter, by=by, version=version, total=made.total)
    return True


def _mark(encounter: Encounter, case: CompiledCase, version: int = MARKING_VERSION) -> Mark:
    marks = mark(case, log_of(encounter), version)
    return Mark.objects.create(
        encounter=encounter,
        marking_version=marks.version,
        total=marks.total,
        result=asdict(marks),
    )


def _already_made(encounter_id: UUID, by: User, key: str) -> tuple[Encounter, list[LogEntry]]:
    """The entries that this key made before."""
    encounter = Encounter.objects.get(pk=encounter_id, student=by)
    return encounter, entries_with_key(encounter_id, [entry_key(key, n) for n in range(MOST)])


def entry_key(key: str, place: int) -> str:
    """The stored key of the nth entry made under one idempotency key; empty stays empty."""
    return hashlib.sha256(f"{key}#{place}".encode()).hexdigest() if key else ""


def form_key(after: int, what: str) -> str:
    """The key of a form: what was asked at which log position.

    A double click and a second tab that shows the same sheet send the same key.
    """
    return hashlib.sha256(f"{after}|{what}".encode()).hexdigest()
