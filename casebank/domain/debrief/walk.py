"""Walks a finished encounter: the state as it stood before or after any of its requests."""

from __future__ import annotations

from dataclasses import replace

from casebank.domain.encounter.model import State
from casebank.domain.marking.model import Record


def state_before(record: Record, place: int) -> State:
    """The state in which the request at ``place`` (0 is the first) was made.

    One place past the last request is the state at the end.
    """
    asked = record.state.asked
    if place >= len(asked):
        return record.state
    now = asked[place]
    return replace(record.state, stage=now.stage, minute=now.minute, asked=asked[:place])


def state_after(record: Record, place: int) -> State:
    """The state with the request at ``place`` answered, in the stage in which it was made."""
    now = record.state.asked[place]
    return replace(
        record.state, stage=now.stage, minute=now.minute, asked=record.state.asked[: place + 1]
    )
