"""Answers a text by what its words say for steps, as one request or several, before it is read part
by part: quicker, and righter where the words are clear. A name, a side or a drug in doubt stops it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casebank.domain.examination.allowing import is_allowed
from casebank.domain.examination.alone import Alone
from casebank.domain.examination.answers import Answer
from casebank.domain.examination.choosing import Grounds
from casebank.domain.examination.cutting import Part, cut
from casebank.domain.examination.groups import group_of
from casebank.domain.examination.phrases import Match
from casebank.domain.examination.scoring import candidate_of
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading, literal

WORTH_A_LOOK = 0.5
"""Least chance with which an answer is worked out."""
CLEAR = 0.9
"""From this chance on a rival's name stops an answer only where it was said word for word."""


@dataclass(frozen=True)
class Usable:
    """What of a reading may be used: values of technique that are neither denied nor remarks, and
    for each token whether it may."""

    matches: Sequence[Match]
    allowed: Sequence[bool]


@dataclass(frozen=True)
class Outright:
    """The requests of a text, each sure, and the chance, 0-1, that they are what is asked for."""

    answers: tuple[Answer, ...]
    chance: float


def as_one(reading: Reading, usable: Usable, grounds: Grounds, whole: Alone) -> Outright | None:
    """All words as one request; None where it is unlikely or in doubt."""
    if whole.chance < WORTH_A_LOOK or _is_list_of_names(reading, grounds.index):
        return None
    answer = _answer(
        Part(range(len(reading.breaks)), whole.step, whole.chance), reading, usable, grounds
    )
    return Outright((answer,), whole.chance) if answer else None


def as_several(reading: Reading, usable: Usable, grounds: Grounds, whole: Alone) -> Outright | None:
    """The text cut into several requests; None where that is unlikely or one of them in doubt."""
    found = None if is_a_name(reading, grounds.index) else cut(reading, grounds, whole)
    if found is None or found.chance < WORTH_A_LOOK:
        return None
    answers = _answers(found.parts, reading, usable, grounds)
    is_whole = len(answers) == len(found.parts) and not _are_of_two_sides(answers)
    return Outright(answers, found.chance) if is_whole else None


def _are_of_two_sides(answers: Sequence[Answer]) -> bool:
    """Whether one step is asked for on one side and on another: perhaps only to compare."""
    sides: dict[str, set[str]] = {}
    for answer in answers:
        told = {said["side"] for said in answer.top.said.techniques if "side" in said}
        sides.setdefault(answer.top.slug, set()).update(told)
    return any(len(told) > 1 for told in sides.values())


def is_a_name(reading: Reading, index: StepIndex) -> bool:
    """Whether a text is, but for empty words, the name of a step."""
    return literal(token.key for token in reading.tokens) in index.literals


def _is_list_of_names(reading: Reading, index: StepIndex) -> bool:
    """Whether a text is nothing but the names of several steps: *pulse and BP*."""
    segments = range(len(reading.breaks))
    said = [
        literal(token.key for token in reading.tokens if token.segment == segment)
        for segment in segments
    ]
    named = [index.literals.get(keys, ()) for keys in said if keys]
    return len(named) > 1 and all(named) and not set.intersection(*map(set, named))


def _answers(
    parts: Sequence[Part], reading: Reading, usable: Usable, grounds: Grounds
) -> tuple[Answer, ...]:
    found = (_answer(part, reading, usable, grounds) for part in parts)
    return tuple(answer for answer in found if answer)


def _answer(part: Part, reading: Reading, usable: Usable, grounds: Grounds) -> Answer | None:
    """A part as a request for its step, if nothing speaks against it."""
    index = grounds.index
    group = group_of(reading, part.segments, usable.matches, usable.allowed, index)
    if not group.content:
        return None
    this, named = candidate_of(reading, group, index, part.step)
    answer = Answer(group, (this, *named), is_sure=True, chance=part.chance)
    return answer if is_allowed(answer, reading, index, is_clear=part.chance >= CLEAR) else None
