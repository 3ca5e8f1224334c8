"""Reads what a student typed or picked as requests, or says what to ask back.

Nothing here knows the case: the same words read the same for every patient.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from casebank.cases.library import resolver_for
from casebank.domain.encounter.model import EncounterError, Request, State
from casebank.domain.examination.model import Catalogue, Step
from casebank.domain.examination.resolution import Resolution, ResolvedRequest
from casebank.domain.visibility import Chip, chips_of
from casebank.encounters.overrides import NONE, Overrides, applied, refuse_untaken

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


def saying(text: str, overrides: Overrides = NONE) -> Say:
    """A reader of free words; raises AskedBack where they do not give a request.

    Technique picked by hand is laid over the one request that the words give; EncounterError
    where the step does not take it.
    """

    def say(catalogue: Catalogue, state: State) -> Sequence[Request]:
        if not text.strip():
            raise AskedBack("Say what you would do, ask or request.")
        if len(text) > LONGEST_REQUEST:
            raise AskedBack(f"Keep a request under {LONGEST_REQUEST} characters.")
        found = resolver_for(catalogue).resolve(text, previous=previous_request(state))
        return _requests(found, text, catalogue, overrides)

    return say


def previous_request(state: State) -> Request | None:
    """What was asked last, for words such as "now sitting forward"."""
    if not state.asked:
        return None
    last = state.asked[-1]
    return Request(last.step, dict(last.technique))


def picking(choice: str, text: str = "", overrides: Overrides = NONE) -> Say:
    """A reader of a pressed button or a filled slot form: JSON with step, technique, all."""

    def say(catalogue: Catalogue, state: State) -> Sequence[Request]:
        picked = picked_from(choice)
        step = catalogue.steps.get(picked.step)
        if step is None:
            raise AskedBack("That step is not in the catalogue. Say it in your own words.")
        technique = applied(overrides, step, picked.technique, catalogue)
        if step.parts and not picked.everything:
            raise _parts(step, technique, catalogue)
        for slot, value in technique.items() if step.parts else ():
            refuse_untaken(step, slot, value, catalogue)
        asked = _shared(technique, step, catalogue) if step.parts else [(step, technique)]
        return [Request(one.slug, told, text) for one, told in asked]

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


def _requests(
    found: Resolution, text: str, catalogue: Catalogue, overrides: Overrides
) -> Sequence[Request]:
    if found.status == "ask back":
        raise AskedBack(
            "Which of these do you mean?",
            tuple(_choice(one.step, one.technique, catalogue) for one in found.alternatives),
            found.not_understood,
        )
    if not found.requests:
        raise AskedBack(_not_understood(found), (), found.not_understood)
    asked = _with_overrides(found.requests, catalogue, overrides)
    for slug, technique in asked:
        if catalogue.steps[slug].parts:
            raise _parts(catalogue.steps[slug], technique, catalogue)
    return [Request(*one, text) for one in asked]


def _with_overrides(
    requests: Sequence[ResolvedRequest], catalogue: Catalogue, overrides: Overrides
) -> list[tuple[str, dict[str, str]]]:
    """Step and technique of each request, with the picks laid over the one they belong to."""
    mine = [one for one in requests if overrides.step in ("", one.step)]
    if overrides.changed and not overrides.step and len(mine) > 1:
        raise EncounterError("These words are more than one request. Say how each is done.")
    return [
        (
            one.step,
            applied(overrides, catalogue.steps[one.step], one.technique, catalogue)
            if mine == [one]
            else dict(one.technique),
        )
        for one in requests
    ]


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


def _parts(step: Step, technique: Mapping[str, str], catalogue: Catalogue) -> AskedBack:
    parts = _shared(technique, step, catalogue)
    minutes = sum(part.minutes for part, _ in parts)
    chips = chips_of(step, technique, technique, catalogue)
    how = "".join(f", {chip.label}" for chip in chips)
    value = {"step": step.slug, "all": True, "technique": dict(technique)}
    everything = Choice(
        f"All {len(parts)}{how} ({minutes:g} min)", json.dumps(value, sort_keys=True), chips
    )
    return AskedBack(
        f"{step.label} is {len(parts)} steps, each charged. Do all, or choose one.",
        (everything, *(_part(part, told) for part, told in parts)),
    )


def _part(part: Step, technique: Mapping[str, str]) -> Choice:
    value = {"step": part.slug, "technique": dict(technique)}
    return Choice(f"{part.label} ({part.minutes:g} min)", json.dumps(value, sort_keys=True))


def _shared(
    technique: Mapping[str, str], whole: Step, catalogue: Catalogue
) -> list[tuple[Step, dict[str, str]]]:
    """Each part of a step with what was said of the whole, where the part takes it."""
    return [
        (part, {slot: value for slot, value in technique.items() if _takes(part, slot, value)})
        for part in (catalogue.steps[slug] for slug in whole.parts)
    ]


def _takes(step: Step, slot: str, value: str) -> bool:
    """Whether the step can be done with this value of this slot."""
    taken = step.slot(slot)
    return taken is not None and value in taken.values
