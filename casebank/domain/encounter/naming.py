"""The student says what a perceived sign is: checked, logged, never judged here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.model import Asked, EncounterError, Reading, State
from casebank.domain.encounter.perceive import Medium, perceived

LONGEST_READING = 300


def read_finding(
    case: CompiledCase, state: State, reading: Reading
) -> tuple[dict[str, Any], State]:
    """Log what the student says a perceived sign is; takes no time, and the last one counts.

    EncounterError after the conclusion, where nothing was heard or seen at that entry, or where a
    value is not in the vocabulary.
    """
    if state.concluded:
        raise EncounterError("This encounter is concluded. What you named stands as it was.")
    medium_read(case, state, reading.entry, reading.medium)
    payload = {
        "entry": reading.entry,
        "medium": reading.medium,
        "text": reading.text[:LONGEST_READING],
        "stated": [_known(case, features) for features in reading.stated],
        "unused": list(reading.unused),
        "minute": state.minute,
    }
    return payload, replace(state, last_seq=state.last_seq + 1)


def medium_read(case: CompiledCase, state: State, entry: int, medium: int) -> Medium:
    """What was heard or seen there; EncounterError where there was nothing."""
    asked = next((one for one in state.asked if one.seq == entry), None)
    media = media_given(case, asked) if asked else ()
    if not 0 <= medium < len(media):
        raise EncounterError("There is nothing to name at that entry. Ask for a finding first.")
    return media[medium]


def media_given(case: CompiledCase, asked: Asked) -> tuple[Medium, ...]:
    """What that request gave to hear or see."""
    return perceived(case, asked.step, asked.technique, asked.stage)


def _known(case: CompiledCase, features: Mapping[str, Iterable[str]]) -> dict[str, list[str]]:
    known = case.catalogue.vocabulary.features
    for feature, values in features.items():
        if feature not in known or not set(values) <= set(known[feature].terms):
            raise EncounterError(f"There is no such {feature} in the list. Say it in other words.")
    return {feature: list(values) for feature, values in features.items()}


def reading_of(payload: Mapping[str, Any]) -> Reading:
    """The reading that a logged payload holds."""
    return Reading(
        entry=payload["entry"],
        medium=payload["medium"],
        text=payload["text"],
        stated=tuple({name: tuple(v) for name, v in one.items()} for one in payload["stated"]),
        unused=tuple(payload["unused"]),
    )
