"""Gives a request the side that is meant where both were said, or asks which.

Owns what becomes of the words for a side. Which one is meant is ``siding``'s.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from casebank.domain.examination.answers import Answer
from casebank.domain.examination.choosing import Grounds
from casebank.domain.examination.outright import Usable
from casebank.domain.examination.phrases import Match, Value
from casebank.domain.examination.siding import (
    BOTH,
    Meant,
    are_both_said,
    meant,
    sides_said,
    without_overlap,
)
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading

LEFT, BOTH_SIDES = ("side", "left"), ("side", "both")
DOUBT = "side"


def with_side_meant(
    usable: Usable, every: Sequence[Match], reading: Reading, step: int, grounds: Grounds
) -> Usable:
    """What may be used of a reading for one request of that step; of its sides, if left and right
    are both among ``every`` match and it is clear which is meant, that one alone."""
    said = sides_said(reading, every, grounds.index.entries[step].takes)
    found = _meant(said, every, reading, step, grounds)
    if found is None or not found.is_sure:
        return usable
    others = [match for match in usable.matches if match.slot != "side"]
    words = [match for match in said if match.value[1] in found.sides]
    told = [replace(match, value=("side", found.value)) for match in words[:1]]
    return replace(usable, matches=[*told, *others])


def settled(
    answers: Sequence[Answer], every: Sequence[Match], reading: Reading, grounds: Grounds
) -> list[Answer]:
    """The answers, where those that take a side are of one step and both sides were said, with one
    request of it on the side that is meant; in doubt about it where that is not clear."""
    sided = [one for one in answers if LEFT in _takes(one.top.slug, grounds.index)]
    slugs = {one.top.slug for one in sided}
    if len(slugs) != 1:
        return list(answers)
    step = grounds.index.number[slugs.pop()]
    said = sides_said(reading, every, grounds.index.entries[step].takes)
    found = _meant(said, every, reading, step, grounds)
    if found is None and {one.value for one in said} > {BOTH_SIDES} and _are_two(sided):
        found = Meant(BOTH, 1.0, is_sure=True)
    if found is None:
        return list(answers)
    one_side = _on_side(sided, found, grounds.index)
    return [one_side if one is sided[0] else one for one in answers if one not in sided[1:]]


def _meant(
    said: Sequence[Match], every: Sequence[Match], reading: Reading, step: int, grounds: Grounds
) -> Meant | None:
    """The side meant of a step that is asked for at one site at most, not at one on the left and at
    another on the right; None where not both are said, or both are meant and it takes but one."""
    takes = grounds.index.entries[step].takes
    told = without_overlap(match for match in every if match.value in takes)
    is_one = LEFT in takes and len({match.value for match in told if match.slot == "site"}) <= 1
    if not (is_one and are_both_said(said)):
        return None
    found = meant(reading, said, step, grounds)
    return found if found.value != "both" or BOTH_SIDES in takes else None


def _takes(slug: str, index: StepIndex) -> frozenset[Value]:
    return index.entries[index.number[slug]].takes


def _are_two(answers: Sequence[Answer]) -> bool:
    return sum(len(one.top.said.techniques) for one in answers) > 1


def _on_side(alike: Sequence[Answer], found: Meant, index: StepIndex) -> Answer:
    """One request of what several ask for, on the side meant; each side to choose from if in
    doubt."""
    answer, told = alike[0], _told(alike)
    likely = [found.value] if found.value else []
    sides = likely if found.is_sure else list(dict.fromkeys([*likely, "left", "right", "both"]))
    takes = _takes(answer.top.slug, index)
    techniques = tuple({**told, "side": side} for side in sides if ("side", side) in takes)
    doubts = tuple(one for one in answer.top.doubts if one != DOUBT)
    doubts += () if found.is_sure else (DOUBT,)
    said = replace(
        answer.top.said, techniques=techniques or (told,), is_side_doubtful=not found.is_sure
    )
    ranked = (replace(answer.top, said=said, doubts=doubts), *answer.ranked[1:])
    return replace(answer, ranked=ranked, is_sure=answer.is_sure and found.is_sure)


def _told(alike: Sequence[Answer]) -> dict[str, str]:
    """The technique that answers for one step say together, but for the side; the first wins."""
    told: dict[str, str] = {}
    for technique in (each for one in alike for each in one.top.said.techniques):
        told = {**technique, **told}
    return {slot: value for slot, value in told.items() if slot != "side"}
