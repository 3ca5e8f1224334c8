"""The two statements of a request at a bed, written out: they are the site's hot path.

Only ``actions`` calls them, inside its transaction. One locks an encounter and reads it; the other
appends entries and stores the cached state in a single round trip.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db import connection

from casebank.encounters.models import Encounter

COLUMNS = tuple(field.attname for field in Encounter._meta.concrete_fields)  # noqa: SLF001
LOCK = f"""
    SELECT {", ".join(COLUMNS)} FROM encounters_encounter
     WHERE id = %s AND student_id = %s FOR UPDATE
"""  # noqa: S608  the names of our own columns
APPEND = """
    WITH made AS (
        INSERT INTO encounters_entry (encounter_id, seq, kind, key, payload, at)
        SELECT %s, line.seq, %s, line.key, line.payload, now()
          FROM jsonb_to_recordset(%s::jsonb) AS line(seq int, key text, payload jsonb)
    )
    UPDATE encounters_encounter
       SET live = %s::jsonb, last_seq = %s, minutes = %s, surcharge = %s, concluded_at = %s
     WHERE id = %s
"""


@dataclass(frozen=True)
class Line:
    """An entry to append."""

    seq: int
    key: str
    payload: dict[str, Any]


def lock(encounter_id: UUID, student_id: int) -> Encounter | None:
    """The student's encounter, locked until the transaction ends; None where there is none."""
    with connection.cursor() as cursor:
        cursor.execute(LOCK, [encounter_id, student_id])
        row = cursor.fetchone()
    if row is None:
        return None
    found = Encounter.from_db(connection.alias, COLUMNS, row)
    if isinstance(found.live, str):  # a plain cursor gives JSON as text
        found.live = json.loads(found.live)
    return found


def append(encounter: Encounter, kind: str, lines: Sequence[Line]) -> None:
    """Append the lines and store the encounter's new live state; IntegrityError for a used key."""
    made = json.dumps([{"seq": one.seq, "key": one.key, "payload": one.payload} for one in lines])
    state = [encounter.last_seq, encounter.minutes, encounter.surcharge, encounter.concluded_at]
    with connection.cursor() as cursor:
        cursor.execute(
            APPEND,
            [encounter.pk, kind, made, json.dumps(encounter.live), *state, encounter.pk],
        )
