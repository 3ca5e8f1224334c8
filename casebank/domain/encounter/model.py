"""The types of an encounter: requests, charges, log entries and the state they add up to.

Every type is immutable and turns into plain JSON, because the log stores it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

Reason = Literal["due", "repeat", "unneeded", "unsafe"]
Kind = Literal["request", "differential", "reading", "conclusion"]


@dataclass(frozen=True)
class Request:
    """A step with the technique that was said; ``text`` is the student's own words."""

    step: str
    technique: Mapping[str, str] = field(default_factory=dict)
    text: str = ""


@dataclass(frozen=True)
class Reading:
    """What the student says a perceived sign is.

    ``medium`` counts what the request at log position ``entry`` gave to hear or see, from 0;
    ``stated`` holds what was understood, values by feature for each sign named, ``unused`` the
    words that were not.
    """

    entry: int
    medium: int
    text: str
    stated: tuple[Mapping[str, tuple[str, ...]], ...]
    unused: tuple[str, ...] = ()


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
