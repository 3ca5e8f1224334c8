"""The types of a mark."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from casebank.domain.encounter.model import State

Payload = Mapping[str, Any]


@dataclass(frozen=True)
class Point:
    """One thing that earned or lost marks; ``entries`` are the log positions behind it."""

    words: str
    earned: float
    possible: float
    entries: tuple[int, ...] = ()


@dataclass(frozen=True)
class DomainMark:
    """A domain's score, 0-100; None where this encounter gives no ground for one."""

    domain: str
    score: float | None
    weight: float
    points: tuple[Point, ...]
    note: str = ""


@dataclass(frozen=True)
class Marks:
    """All domains and their weighted mean over those that could be marked."""

    version: int
    total: float
    domains: tuple[DomainMark, ...]
    capped_at: float | None = None


@dataclass(frozen=True)
class Line:
    """A replayed log entry: its position, kind and recomputed payload."""

    seq: int
    kind: str
    payload: Payload


@dataclass(frozen=True)
class Record:
    """What is marked: the final state and the replayed lines."""

    state: State
    lines: tuple[Line, ...]

    def requests(self) -> tuple[Line, ...]:
        """The lines in which a step was asked for."""
        return tuple(line for line in self.lines if line.kind == "request")

    def last(self, kind: str) -> Line | None:
        """The last line of that kind."""
        return next((line for line in reversed(self.lines) if line.kind == kind), None)
