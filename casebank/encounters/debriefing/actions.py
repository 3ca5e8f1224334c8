"""Writes what tutors add to a debrief: comments, and a total beside the computed mark.

Both are appended; neither changes a log or a mark.
"""

from __future__ import annotations

import hashlib

from django.db import transaction

from accounts.models import User
from casebank.audit.actions import record
from casebank.encounters.models import DebriefComment, Encounter, MarkAdjustment
from casebank.encounters.policies import may_judge
from casebank.encounters.queries import mark_of


class NotAllowedError(Exception):
    """The person may not do this; the message says why."""


class EntryMissingError(ValueError):
    """The encounter has no such entry; the message says what to do."""


def comment(
    *, encounter: Encounter, text: str, by: User, entry_seq: int | None = None, key: str = ""
) -> DebriefComment:
    """Add a comment on the encounter or on one of its entries; one key comments once."""
    _allowed(by, encounter)
    if entry_seq is not None and not _has_row(encounter, entry_seq):
        raise EntryMissingError("Choose the number of a row of the sheet, or leave it out.")
    with transaction.atomic():
        _lock(encounter)
        stored = _key(by, key)
        if stored and (found := encounter.comments.filter(key=stored).first()):
            return found
        made = DebriefComment.objects.create(
            encounter=encounter, text=text.strip(), entry_seq=entry_seq, by=by, key=stored
        )
        record(name="debrief_commented", subject=encounter, by=by, comment=made.pk)
    return made


def adjust(
    *, encounter: Encounter, total: float, reason: str, by: User, key: str = ""
) -> MarkAdjustment:
    """Put a total from 0 to 100 beside the computed mark, with its reason."""
    _allowed(by, encounter)
    with transaction.atomic():
        _lock(encounter)
        stored = _key(by, key)
        if stored and (found := encounter.adjustments.filter(key=stored).first()):
            return found
        mark = mark_of(encounter)
        made = MarkAdjustment.objects.create(
            encounter=encounter, mark=mark, total=total, reason=reason.strip(), by=by, key=stored
        )
        record(name="mark_adjusted", subject=encounter, by=by, computed=mark.total, adjusted=total)
    return made


def _allowed(by: User, encounter: Encounter) -> None:
    verdict = may_judge(by, encounter)
    if not verdict:
        raise NotAllowedError(verdict.reason)


def _has_row(encounter: Encounter, seq: int) -> bool:
    """A reading is shown with the request it names and has no row of its own."""
    return encounter.entries.filter(seq=seq).exclude(kind="reading").exists()


def _lock(encounter: Encounter) -> None:
    """Two clicks at once wait for each other here, so that the second finds the first's key."""
    Encounter.objects.select_for_update().only("pk").get(pk=encounter.pk)


def _key(by: User, key: str) -> str:
    return hashlib.sha256(f"{by.pk}|{key}".encode()).hexdigest() if key else ""
