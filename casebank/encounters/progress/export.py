"""One's own record to take away: everything as JSON, the marks as a flat CSV."""

from __future__ import annotations

import csv
import io
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any
from uuid import UUID

from accounts.models import User
from casebank.cases.library import compiled_version
from casebank.domain.visibility import CAUTION, visible_entry
from casebank.encounters.debriefing.marks import DOMAIN_WORDS
from casebank.encounters.models import DebriefComment, Entry, Mark, MarkAdjustment
from casebank.encounters.policies import visible_encounters
from casebank.encounters.progress.queries import adjusted_of, marks_of

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
COLUMNS = ("encounter", "patient", "started", "concluded", "minutes", "surcharge", "mark",
           "tutor's mark", *DOMAIN_WORDS)  # fmt: skip
Record = dict[str, Any]


def record_of(user: User) -> Record:
    """All of this person's encounters, open ones too, as they may see them."""
    encounters = visible_encounters(user).defer("live").select_related("version").order_by(
        "started_at", "pk"
    )  # fmt: skip
    entries, marks = _entries(user), _marks(user)
    comments, adjustments = _comments(user), _adjustments(user)
    return {
        "caution": CAUTION,
        "person": {"name": user.name, "email": user.email},
        "encounters": [
            {
                "id": str(one.pk),
                "patient": one.version.title,
                "started": one.started_at.isoformat(),
                "concluded": one.concluded_at.isoformat() if one.concluded_at else None,
                "minutes": one.minutes,
                "surcharge": one.surcharge,
                "entries": [_seen(one.version_id, *row) for row in entries[one.pk]],
                "marks": marks[one.pk],
                "comments": comments[one.pk],
                "adjustments": adjustments[one.pk],
            }
            for one in encounters
        ],
    }


def _seen(version: UUID, seq: int, kind: str, payload: Mapping[str, Any]) -> Record:
    return asdict(visible_entry(seq, kind, payload, compiled_version(version).catalogue))


def _entries(user: User) -> dict[UUID, list[tuple[int, str, Any]]]:
    rows = (
        Entry.objects.filter(encounter__student=user)
        .order_by("encounter_id", "seq")
        .values_list("encounter_id", "seq", "kind", "payload")
    )
    found: dict[UUID, list[tuple[int, str, Any]]] = defaultdict(list)
    for pk, *row in rows:
        found[pk].append((row[0], row[1], row[2]))
    return found


def _marks(user: User) -> dict[UUID, list[Record]]:
    rows = Mark.objects.filter(encounter__student=user).order_by("pk").values_list(
        "encounter_id", "marking_version", "total", "result"
    )  # fmt: skip
    return _grouped((pk, {"version": v, "total": t, "result": r}) for pk, v, t, r in rows)


def _comments(user: User) -> dict[UUID, list[Record]]:
    rows = DebriefComment.objects.filter(encounter__student=user).values_list(
        "encounter_id", "entry_seq", "text", "by__name", "at"
    )
    return _grouped(
        (pk, {"entry": seq, "text": text, "by": by, "at": at.isoformat()})
        for pk, seq, text, by, at in rows
    )


def _adjustments(user: User) -> dict[UUID, list[Record]]:
    rows = MarkAdjustment.objects.filter(encounter__student=user).values_list(
        "encounter_id", "total", "reason", "by__name", "at"
    )
    return _grouped(
        (pk, {"total": total, "reason": reason, "by": by, "at": at.isoformat()})
        for pk, total, reason, by, at in rows
    )


def _grouped(pairs: Any) -> dict[UUID, list[Record]]:
    found: dict[UUID, list[Record]] = defaultdict(list)
    for pk, record in pairs:
        found[pk].append(record)
    return found


def csv_of(user: User) -> str:
    """A line an encounter; a cell that a spreadsheet would take for a formula begins with '."""
    rows = list(
        visible_encounters(user)
        .order_by("started_at", "pk")
        .values_list("pk", "version__title", "started_at", "concluded_at", "minutes", "surcharge")
    )
    ids = [row[0] for row in rows]
    marks, adjusted = marks_of(ids), adjusted_of(ids)
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for pk, title, started, concluded, minutes, surcharge in rows:
        total, result = marks.get(pk, ("", {"domains": []}))
        when = [one.isoformat() if one else "" for one in (started, concluded)]
        cells = [pk, title, *when, minutes, surcharge, total, adjusted.get(pk, "")]
        writer.writerow([_safe(cell) for cell in (*cells, *_scores(result))])
    return out.getvalue()


def _scores(result: Mapping[str, Any]) -> list[Any]:
    by_domain = {domain["domain"]: domain["score"] for domain in result["domains"]}
    return ["" if (score := by_domain.get(slug)) is None else score for slug in DOMAIN_WORDS]


def _safe(cell: Any) -> Any:
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(FORMULA_STARTS) else cell
