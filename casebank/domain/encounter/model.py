"""The types of an encounter: requests, charges, log entries and the state they add up to.

Every type is immutable and turns into plain JSON, because the log stores it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

Reason = Literal["due", "repeat", "unneeded", "unsafe"]
Kind = Literal["request", "differential", "conclusion"]


@dataclass(frozen=True)
class Request:
    """A step with the technique that was said; ``text`` is the student's own words."""

    step: str
    technique: Mapping[str, str] = field(default_factory=dict)
    text: str = ""


@dataclass(frozen=True)
class Charge:
    """What a request cost: minutes, surcharge and price in price units, ``information`` in bits.

    ``words`` is the sentence for the student.
    """

    minutes: float
    surcharge: float
    price: float
    reason: Reason
    information: float
    tau: float
    words: str


@dataclass(frozen=True)
class Seen:
    """A finding that was revealed, with the outcome it counts as (None: tells nothing)."""

    finding: str
    outcome: str | None
    strength: str


@dataclass(frozen=True)
class Asked:
    """A request as done: full technique, stage and minute when it was made."""

    seq: int
    step: str
    technique: Mapping[str, str]
    stage: str
    minute: float
    seen: tuple[Seen, ...]


@dataclass(frozen=True)
class State:
    """Where an encounter stands; equal to the replay of its log."""

    stage: str
    stage_since: float = 0.0
    minute: float = 0.0
    surcharge: float = 0.0
    asked: tuple[Asked, ...] = ()
    differential: Mapping[str, float] = field(default_factory=dict)
    flags: tuple[str, ...] = ()
    concluded: bool = False
    last_seq: int = 0


class EncounterError(ValueError):
    """The encounter cannot take this; the message says what to do."""


@dataclass(frozen=True)
class Entry:
    """One line of the log, as stored."""

    seq: int
    kind: Kind
    payload: Mapping[str, Any]
