"""Owns the judgement of one resolution against its phrasing; counts nothing.

A step is right when it is the one wanted, or one of ``accept``. A technique is right when every
slot said has the value said and no other slot is filled; a follow-up may keep what stood before.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from tests.evaluation.entries import Phrasing, Wanted

ASKED_BACK = "ask back"
NOT_UNDERSTOOD = "not understood"


class Request(Protocol):
    """What the resolver gives for one request."""

    @property
    def step(self) -> str: ...
    @property
    def technique(self) -> Mapping[str, str]: ...


@dataclass(frozen=True)
class Grade:
    """How one text was read; ``pairs`` are the confusions (wanted, got)."""

    answered: bool
    asked_back: bool
    not_understood: bool
    step_right: bool = False
    technique_right: bool = False
    offered: bool = False
    wrong_side: bool = False
    lost_side: bool = False
    pairs: tuple[tuple[str, str], ...] = ()


def grade(
    phrasing: Phrasing, status: str, given: list[Request], alternatives: list[Request]
) -> Grade:
    """Judge what came back; ``given`` counts only where the status is neither of the refusals."""
    asked, lost = status == ASKED_BACK, status == NOT_UNDERSTOOD
    if asked or lost:
        offered = asked and any(fits(phrasing, 0, other.step) for other in alternatives)
        return Grade(False, asked, lost, offered=offered)
    matched = match(phrasing, given)
    pairs = confusions(phrasing, given)
    step_right = not pairs and not phrasing.outside
    return Grade(
        answered=True,
        asked_back=False,
        not_understood=False,
        step_right=step_right,
        technique_right=step_right and all(technique_fits(phrasing, *pair) for pair in matched),
        wrong_side=any(side_is_wrong(phrasing, *pair) for pair in matched),
        lost_side=any(side_is_lost(*pair) for pair in matched),
        pairs=pairs,
    )


def fits(phrasing: Phrasing, place: int, step: str) -> bool:
    """Whether that step answers the request at that place; ``accept`` speaks of the first."""
    if phrasing.outside:
        return False
    return step == phrasing.requests[place].step or (place == 0 and step in phrasing.accept)


def match(phrasing: Phrasing, given: list[Request]) -> list[tuple[Wanted, Request]]:
    """Each wanted request with the given one that answers it best, in any order; a step asked for
    twice, at two sites, needs two answers where two are given."""
    left = list(given)
    found: list[tuple[Wanted, Request]] = []
    for place, wanted in enumerate(phrasing.requests):
        fitting = [got for got in left if fits(phrasing, place, got.step)] or [
            got for got in given if fits(phrasing, place, got.step)
        ]
        best = next((got for got in fitting if technique_fits(phrasing, wanted, got)), None)
        answer = best or (fitting[0] if fitting else None)
        if answer is not None:
            found.append((wanted, answer))
            left = [got for got in left if got is not answer]
    return found


def confusions(phrasing: Phrasing, given: list[Request]) -> tuple[tuple[str, str], ...]:
    """Wanted steps that were not given against given ones that were not wanted."""
    places = range(len(phrasing.requests))
    missing = [
        phrasing.requests[place].step
        for place in places
        if not any(fits(phrasing, place, got.step) for got in given)
    ]
    spare = [
        got.step for got in given if not any(fits(phrasing, place, got.step) for place in places)
    ]
    spare += ["(nothing)"] * (len(missing) - len(spare))
    missing += ["(nothing)"] * (len(spare) - len(missing))
    return tuple(zip(missing, spare, strict=True))


def technique_fits(phrasing: Phrasing, wanted: Wanted, got: Request) -> bool:
    """Whether every slot said is there and nothing else but what may be."""
    said = all(got.technique.get(slot) == value for slot, value in wanted.technique.items())
    extra = {slot: value for slot, value in got.technique.items() if slot not in wanted.technique}
    return said and all(_allowed(phrasing, wanted, slot, value) for slot, value in extra.items())


def side_is_wrong(phrasing: Phrasing, wanted: Wanted, got: Request) -> bool:
    """Whether a side was answered that contradicts the text, or that nobody said."""
    side = got.technique.get("side")
    if side is None or side == wanted.technique.get("side"):
        return False
    return "side" in wanted.technique or not _allowed(phrasing, wanted, "side", side)


def side_is_lost(wanted: Wanted, got: Request) -> bool:
    """Whether a side was said and none came back, so that the step's own side is used."""
    return "side" in wanted.technique and "side" not in got.technique


def _allowed(phrasing: Phrasing, wanted: Wanted, slot: str, value: str) -> bool:
    before = phrasing.after.technique.get(slot) if phrasing.after else None
    return value in wanted.may.get(slot, ()) or value == before
