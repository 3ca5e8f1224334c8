"""What a request gives to hear or see: one medium for each different sign its findings carry.

Owns which findings share a medium. Rendering is ``casebank.domain.signs``'s.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Answer, Finding
from casebank.domain.encounter.reveal import answer_of, findings_at
from casebank.domain.examination.model import Technique

SOUNDS = ("heart-sound", "breath-sound")


@dataclass(frozen=True)
class Heard:
    """A finding that a medium holds, with the features a full reading of it names."""

    finding: str
    label: str
    expects: Mapping[str, str]


@dataclass(frozen=True)
class Medium:
    """One sound, trace or picture: its specification, and every finding to be heard or seen in it.

    A whole heart is one sound, in which a murmur and an added sound may both be findings.
    """

    spec: Mapping[str, Any]
    heard: tuple[Heard, ...]

    @property
    def kind(self) -> str:
        """``sound``, ``trace`` or ``picture``."""
        kind = self.spec.get("kind")
        return "sound" if kind in SOUNDS else "picture" if kind == "picture" else "trace"

    @property
    def findings(self) -> tuple[str, ...]:
        """The ids of the findings."""
        return tuple(one.finding for one in self.heard)


def perceived(
    case: CompiledCase, step: str, technique: Technique, stage: str
) -> tuple[Medium, ...]:
    """The media of this step done with this full technique in this stage, in order of findings."""
    return media_of((f, answer_of(case, f, technique)) for f in findings_at(case, step, stage))


def media_of(answers: Iterable[tuple[Finding, Answer]]) -> tuple[Medium, ...]:
    """The media of these answers; findings with the same specification share one."""
    specs: dict[str, Mapping[str, Any]] = {}
    heard: dict[str, list[Heard]] = {}
    for finding, answer in answers:
        if answer.sign is not None:
            key = json.dumps(answer.sign.spec, sort_keys=True)
            specs.setdefault(key, answer.sign.spec)
            one = Heard(finding.id, finding.label, answer.sign.expects)
            heard.setdefault(key, []).append(one)
    return tuple(Medium(specs[key], tuple(heard[key])) for key in specs)
