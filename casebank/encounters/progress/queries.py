"""Reads of one person's own concluded encounters, in a fixed number of queries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from accounts.models import User
from casebank.encounters.models import Entry, Mark, MarkAdjustment
from casebank.encounters.policies import visible_encounters

MOST_ENCOUNTERS = 200


@dataclass(frozen=True)
class Concluded:
    """One's own concluded encounter."""

    pk: UUID
    version_id: UUID
    title: str
    concluded_at: datetime


def concluded_of(user: User) -> tuple[list[Concluded], int]:
    """The newest encounters, oldest of them first, and how many older ones are left out."""
    own = visible_encounters(user).filter(concluded_at__isnull=False)
    newest = own.order_by("-concluded_at", "pk").values_list(
        "pk", "version_id", "version__title", "concluded_at"
    )
    rows = newest[: MOST_ENCOUNTERS + 1]
    found = [Concluded(pk, version, title, at) for pk, version, title, at in rows if at]
    shown = found[:MOST_ENCOUNTERS]
    left_out = own.count() - len(shown) if len(found) > len(shown) else 0
    return shown[::-1], left_out


def marks_of(encounters: Sequence[UUID]) -> dict[UUID, tuple[float, Mapping[str, Any]]]:
    """Total and result of each encounter under its newest marking."""
    rows = (
        Mark.objects.filter(encounter_id__in=encounters)
        .order_by("marking_version")
        .values_list("encounter_id", "total", "result")
    )
    return {pk: (total, result) for pk, total, result in rows}


def adjusted_of(encounters: Sequence[UUID]) -> dict[UUID, float]:
    """The tutor's total of each encounter that has one, the newest."""
    rows = (
        MarkAdjustment.objects.filter(encounter_id__in=encounters)
        .order_by("pk")
        .values_list("encounter_id", "total")
    )
    return dict(rows)


def requests_of(encounters: Sequence[UUID]) -> dict[UUID, list[dict[str, Any]]]:
    """Step, technique and stage of every request, by encounter."""
    rows = (
        Entry.objects.filter(encounter_id__in=encounters, kind="request")
        .order_by("encounter_id", "seq")
        .values_list("encounter_id", "payload__step", "payload__technique", "payload__stage")
    )
    found: dict[UUID, list[dict[str, Any]]] = defaultdict(list)
    for pk, step, technique, stage in rows:
        found[pk].append({"step": step, "technique": technique, "stage": stage})
    return found


def conclusions_of(encounters: Sequence[UUID]) -> dict[UUID, Mapping[str, float]]:
    """The final differential of every encounter."""
    rows = Entry.objects.filter(encounter_id__in=encounters, kind="conclusion").values_list(
        "encounter_id", "payload__probabilities"
    )
    return dict(rows)
