"""The types in which a reading of the student's words is given back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Protocol


class Status(StrEnum):
    """What became of a text."""

    UNDERSTOOD = "understood"
    ASK_BACK = "ask back"
    NOT_UNDERSTOOD = "not understood"


class Earlier(Protocol):
    """A request made before, from which a follow-up inherits."""

    @property
    def step(self) -> str:
        """The step's slug."""

    @property
    def technique(self) -> Mapping[str, str]:
        """What was said of the technique."""


@dataclass(frozen=True)
class ResolvedRequest:
    """A step with the technique said or inherited, confidence 0-1, and the words it rests on."""

    step: str
    technique: Mapping[str, str] = field(default_factory=dict)
    confidence: float = 0.0
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class Resolution:
    """What a text asks for.

    ``requests`` is empty unless the status is understood; ``alternatives`` holds what to choose
    from when asked back, the likeliest first; ``not_understood`` the written words not used.
    ``leans`` says that the words may read otherwise after another request: *now the other side*.
    """

    status: Status
    requests: tuple[ResolvedRequest, ...] = ()
    alternatives: tuple[ResolvedRequest, ...] = ()
    not_understood: tuple[str, ...] = ()
    leans: bool = False


@dataclass(frozen=True)
class Suggestion:
    """A way to complete what is being typed."""

    step: str
    text: str
