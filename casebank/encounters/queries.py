"""Reads of encounters and of the patients there are to examine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, cast
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404

from accounts.models import User
from casebank.cases.library import compiled_version
from casebank.cases.models import CaseVersion
from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.model import Entry as LogEntry
from casebank.domain.encounter.model import Kind
from casebank.domain.visibility import VisibleEntry, visible_entry
from casebank.encounters.media import media_seen, readings_in
from casebank.encounters.models import Encounter, Entry, Mark
from casebank.encounters.policies import visible_encounters


@dataclass(frozen=True)
class PatientOnList:
    """A published patient as offered: nothing that tells the diagnosis."""

    version_id: UUID
    title: str
    name: str
    age: int
    sex: str
    open_encounter: UUID | None
    concluded: tuple[UUID, ...]


def encounter_for(user: User, pk: UUID) -> Encounter:
    """This person's encounter; Http404 for anybody else's, as for none."""
    found = visible_encounters(user).filter(pk=pk).first()
    if found is None:
        raise Http404
    return found


def published_versions() -> QuerySet[CaseVersion]:
    """The case versions that may be examined now."""
    return CaseVersion.objects.filter(state="published")


def published_version(pk: UUID) -> CaseVersion:
    """A published version; Http404 otherwise."""
    found = published_versions().filter(pk=pk).first()
    if found is None:
        raise Http404
    return found


def patients_for(user: User) -> list[PatientOnList]:
    """All published patients in order of publication, with this person's encounters."""
    versions = (
        published_versions()
        .order_by("published_at", "pk")
        .values_list("pk", "title", "document__patient")
    )
    mine: dict[UUID, list[tuple[UUID, Any]]] = {}
    for row in (
        visible_encounters(user)
        .order_by("started_at")
        .values_list("version_id", "pk", "concluded_at")
    ):
        mine.setdefault(row[0], []).append(row[1:])
    return [_on_list(pk, title, patient, mine.get(pk, [])) for pk, title, patient in versions]


def _on_list(
    pk: UUID, title: str, patient: dict[str, Any], mine: list[tuple[UUID, Any]]
) -> PatientOnList:
    return PatientOnList(
        version_id=pk,
        title=title,
        name=patient["name"],
        age=patient["age"],
        sex=patient["sex"],
        open_encounter=next((pk for pk, ended in mine if ended is None), None),
        concluded=tuple(pk for pk, ended in mine if ended is not None),
    )


def case_of(encounter: Encounter) -> CompiledCase:
    """The compiled case, from this process's memory."""
    return compiled_version(encounter.version_id)


def log_of(encounter: Encounter, after: int = 0) -> list[LogEntry]:
    """The log as plain entries, oldest first, from behind a position."""
    rows = (
        Entry.objects.filter(encounter_id=encounter.pk, seq__gt=after)
        .order_by("seq")
        .values_list("seq", "kind", "payload")
    )
    return [LogEntry(seq, cast("Kind", kind), payload) for seq, kind, payload in rows]


def sheet_of(encounter: Encounter, after: int = 0) -> list[VisibleEntry]:
    """The log as its student may see it."""
    return as_seen(encounter, log_of(encounter, after))


def as_seen(encounter: Encounter, entries: Sequence[LogEntry]) -> list[VisibleEntry]:
    """These entries as their student may see them; readings among them show where they belong."""
    case, readings = case_of(encounter), readings_in(entries)
    return [
        visible_entry(
            entry.seq,
            entry.kind,
            entry.payload,
            case.catalogue,
            media_seen(encounter, case, entry, readings) if entry.kind == "request" else (),
        )
        for entry in entries
    ]


def last_reading(encounter_id: UUID, entry: int, medium: int) -> LogEntry | None:
    """What the student last said that a perceived sign is."""
    row = (
        Entry.objects.filter(
            encounter_id=encounter_id,
            kind="reading",
            payload__entry=entry,
            payload__medium=medium,
        )
        .order_by("-seq")
        .values_list("seq", "payload")
        .first()
    )
    return LogEntry(row[0], "reading", row[1]) if row else None


def request_at(encounter: Encounter, seq: int) -> LogEntry | None:
    """The request at a log position; None where there is none."""
    row = Entry.objects.filter(encounter_id=encounter.pk, seq=seq, kind="request")
    payload = row.values_list("payload", flat=True).first()
    return LogEntry(seq, "request", payload) if payload is not None else None


def entries_with_key(encounter_id: UUID, keys: Sequence[str]) -> list[LogEntry]:
    """The entries made under these stored keys, oldest first."""
    rows = (
        Entry.objects.filter(encounter_id=encounter_id, key__in=keys)
        .order_by("seq")
        .values_list("seq", "kind", "payload")
    )
    return [LogEntry(seq, cast("Kind", kind), payload) for seq, kind, payload in rows]


def mark_of(encounter: Encounter) -> Mark:
    """The newest marking of a concluded encounter."""
    return encounter.marks.latest("marking_version")
