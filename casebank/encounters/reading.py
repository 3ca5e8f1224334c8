"""Reads what a student typed or picked as requests, or says what to ask back.

Nothing here knows the case: the same words read the same for every patient.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from casebank.cases.library import resolver_for
from casebank.domain.encounter.model import Request, State
from casebank.domain.examination.model import Catalogue, Step
from casebank.domain.examination.resolution import Resolution
from casebank.domain.visibility import Chip, chips_of

LONGEST_REQUEST = 300
Say = Callable[[Catalogue, State], Sequence[Request]]


@dataclass(frozen=True)
class Choice:
    """One thing the student may have meant; ``value`` is what its button sends."""

    label: str
    value: str
    technique: tuple[Chip, ...] = ()


@dataclass(frozen=True)
class AskedBack(Exception):  # noqa: N818  a question, not an error
    """The words do not give one request; nothing was done and nothing is charged."""

    words: str
    choices: tuple[Choice, ...] = ()
    not_understood: tuple[str, ...] = field(default=())


def saying(text: str) -> Say:
    """A reader of free words; raises AskedBack where they do not give a request."""

    def say(catalogue: Catalogue, state: State) -> Sequence[Request]:
        if not text.strip():
            raise AskedBack("Say what you would do, ask or request.")
        if len(text) > LONGEST_REQUEST:
            raise AskedBack(f"Keep a request under {LONGEST_REQUEST} characters.")
        found = resolver_for(catalogue).resolve(text, previous=previous_request(state))
        return _requests(found, text, catalogue)

    return say


def previous_request(state: State) -> Request | None:
    """What was asked last, for words such as "now sitting forward"."""
    if not state.asked:
        return None
    last = state.asked[-1]
    return Request(last.step, dict(last.technique))


def picking(choice: str, text: str = "") -> Say:
    """A reader of a pressed button or a filled slot form: JSON with step, technique, all."""

    def say(catalogue: Catalogue, state: State) -> Sequence[Request]:
        picked = picked_from(choice)
        step = catalogue.steps.get(picked.step)
        if step is None:
            raise AskedBack("That step is not in the catalogue. Say it in your own words.")
        request = Request(step.slug, dict(picked.technique), text)
        if step.parts and picked.everything:
            return [Request(part, {}, text) for part in step.parts]
        if step.parts:
            raise _parts(step, catalogue)
        return [request]

    return say


@dataclass(frozen=True)
class Picked:
    """What a button or a slot form sends; ``everything`` confirms a composite."""

    step: str
    technique: Mapping[str, str]
    everything: bool


def picked_from(choice: str) -> Picked:
    """The step, technique and confirmation in a button's value; AskedBack if it is not one."""
    try:
        data = json.loads(choice)
        technique = {str(slot): str(value) for slot, value in data.get("technique", {}).items()}
        return Picked(str(data["step"]), technique, bool(data.get("all")))
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise AskedBack("That choice could not be read. Say it in your own words.") from error


def _requests(found: Resolution, text: str, catalogue: Catalogue) -> Sequence[Request]:
    if found.status == "ask back":
        raise AskedBack(
            "Which of these do you mean?",
            tuple(_choice(one.step, one.technique, catalogue) for one in found.alternatives),
            found.not_understood,
        )
    if not found.requests:
        raise AskedBack(_not_understood(found), (), found.not_understood)
    for one in found.requests:
        if catalogue.steps[one.step].parts:
            raise _parts(catalogue.steps[one.step], catalogue)
    return [Request(one.step, dict(one.technique), text) for one in found.requests]


def _not_understood(found: Resolution) -> str:
    words = ", ".join(f"“{word}”" for word in found.not_understood)
    start = f"Not understood: {words}. " if words else "That was not understood. "
    return start + "It costs nothing. Say what you would do, to which part, and how."


def _choice(step: str, technique: Mapping[str, str], catalogue: Catalogue) -> Choice:
    value = json.dumps({"step": step, "technique": dict(technique)}, sort_keys=True)
    known = catalogue.steps[step]
    chips = chips_of(known, technique, technique, catalogue)
    said = ", ".join(chip.label for chip in chips)
    return Choice(f"{known.label} ({said})" if said else known.label, value, chips)


def _parts(step: Step, catalogue: Catalogue) -> AskedBack:
    parts = [catalogue.steps[part] for part in step.parts]
    minutes = sum(part.minutes for part in parts)
    everything = Choice(
        f"All {len(parts)} ({minutes:g} min)", json.dumps({"step": step.slug, "all": True})
    )
    return AskedBack(
        f"{step.label} is {len(parts)} steps, each charged. Do all, or choose one.",
        (everything, *_each(parts)),
    )


def _each(parts: Iterable[Step]) -> Iterable[Choice]:
    return (
        Choice(f"{part.label} ({part.minutes:g} min)", json.dumps({"step": part.slug}))
        for part in parts
    )


@dataclass(frozen=True)
class ReadBack:
    """How one request in the words is read so far."""

    label: str
    chips: tuple[Chip, ...]
    minutes: float


def read_back_of(text: str, catalogue: Catalogue, state: State) -> list[ReadBack]:
    """How the words are read so far; empty while they are too few or not clear."""
    if len(text.strip()) < 3 or len(text) > LONGEST_REQUEST:
        return []
    found = resolver_for(catalogue).resolve(text, previous=previous_request(state))
    return [
        ReadBack(
            (step := catalogue.steps[one.step]).label,
            chips_of(step, step.full_technique(one.technique), one.technique, catalogue),
            sum(catalogue.steps[part].minutes for part in step.parts) or step.minutes,
        )
        for one in found.requests
    ]
