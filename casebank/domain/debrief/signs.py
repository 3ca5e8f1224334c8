"""How signs were looked for and how they are found: the technique used beside the deciding one.

A sign was got at fully when no technique would have shown it more clearly or told more.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Answer, Finding
from casebank.domain.debrief.wording import technique_meeting
from casebank.domain.encounter.model import Asked
from casebank.domain.encounter.reveal import answer_of, findings_at
from casebank.domain.examination.model import Step
from casebank.domain.marking.model import Record

CLEARNESS = {"clear": 2, "faint": 1, "absent": 0}
ONLY_PERCEIVED = "It is heard or seen, not told in words."


@dataclass(frozen=True)
class Sign:
    """A finding at its clearest: how it is found, what it says then, what it counts as.

    ``spec`` holds the parameters of what is heard or seen; None where it is told in words alone.
    """

    finding: str
    label: str
    technique: dict[str, str]
    says: str
    outcome: str | None
    spec: Mapping[str, Any] | None = None


@dataclass(frozen=True)
class Overlooked:
    """A sign that a request came near: the last such request, and the technique that decides."""

    seq: int
    step: str
    used: dict[str, str]
    got: str
    sign: Sign


def deciding_sign(case: CompiledCase, finding: Finding) -> Sign | None:
    """The finding by the technique that shows it best; None where no technique reaches it."""
    step = case.catalogue.steps[finding.step]
    reached = [
        (answer, technique)
        for answer in finding.answers
        if (technique := _reaching(case, step, finding, answer)) is not None
    ]
    if not reached:
        return None
    answer, technique = max(reached, key=lambda pair: _worth(pair[0]))
    spec = answer.sign.spec if answer.sign else None
    return Sign(finding.id, finding.label, technique, shown_by(answer), answer.outcome, spec)


def _reaching(
    case: CompiledCase, step: Step, finding: Finding, answer: Answer
) -> dict[str, str] | None:
    """A technique that gets this very answer: earlier answers may take it first."""
    technique = technique_meeting(step, answer.when, case.catalogue)
    if technique is None or answer_of(case, finding, technique) is not answer:
        return None
    return technique


def _worth(answer: Answer) -> tuple[bool, int]:
    return answer.outcome is not None, CLEARNESS[answer.strength]


def shown_by(answer: Answer) -> str:
    """The words of an answer; for one that is only heard or seen, that it is."""
    return answer.says or (ONLY_PERCEIVED if answer.sign else "")


def overlooked(case: CompiledCase, record: Record) -> tuple[Overlooked, ...]:
    """Signs that the student's technique missed or got only faintly, and never got better later."""
    best: dict[str, tuple[tuple[bool, int], Overlooked]] = {}
    for asked in record.state.asked:
        for got, one in _near(case, asked):
            if one.sign.finding not in best or got >= best[one.sign.finding][0]:
                best[one.sign.finding] = (got, one)
    return tuple(one for got, one in best.values() if got < _full(case, one.sign))


def _near(case: CompiledCase, asked: Asked) -> Iterator[tuple[tuple[bool, int], Overlooked]]:
    technique = dict(asked.technique)
    for finding in findings_at(case, asked.step, asked.stage):
        sign = deciding_sign(case, finding)
        if sign is None:
            continue
        answer = answer_of(case, finding, technique)
        yield _worth(answer), Overlooked(asked.seq, asked.step, technique, shown_by(answer), sign)


def _full(case: CompiledCase, sign: Sign) -> tuple[bool, int]:
    finding = next(f for f in case.document.findings if f.id == sign.finding)
    return _worth(answer_of(case, finding, sign.technique))
