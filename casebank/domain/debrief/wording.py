"""Technique conditions as a clinician would say them, and a technique that meets them."""

from __future__ import annotations

from casebank.domain.examination.conditions import Conditions, meets, one_in_words
from casebank.domain.examination.model import Catalogue, Step, Technique


def condition_words(conditions: Conditions, catalogue: Catalogue) -> tuple[str, ...]:
    """Each condition in words, e.g. ``rolled onto the left side``; anything goes says nothing."""
    return tuple(
        words
        for slot, condition in conditions.items()
        if (words := one_in_words(slot, condition, catalogue))
    )


def _label(slot: str, value: str, catalogue: Catalogue) -> str:
    known = catalogue.values.get((slot, value.strip()))
    return known.label if known else value.strip()


def technique_words(step: Step, technique: Technique, catalogue: Catalogue) -> tuple[str, ...]:
    """The technique used, slot by slot, in words."""
    return tuple(
        _label(slot, value, catalogue) for slot, value in technique.items() if step.slot(slot)
    )


def chosen_words(step: Step, technique: Technique, catalogue: Catalogue) -> tuple[str, ...]:
    """Only what has to be said: the slots in which the technique departs from the usual one."""
    usual = step.full_technique({})
    chosen = {slot: value for slot, value in technique.items() if usual.get(slot) != value}
    return technique_words(step, chosen, catalogue)


def differing_words(
    step: Step, one: Technique, other: Technique, catalogue: Catalogue
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The slots in which two techniques differ, in the words of each."""
    slots = [slot.slot for slot in step.slots if one.get(slot.slot) != other.get(slot.slot)]
    mine, theirs = ({slot: way[slot] for slot in slots if slot in way} for way in (one, other))
    return technique_words(step, mine, catalogue), technique_words(step, theirs, catalogue)


def technique_meeting(
    step: Step, conditions: Conditions, catalogue: Catalogue
) -> dict[str, str] | None:
    """A full technique that meets the conditions, near the defaults; None where there is none."""
    chosen = {}
    for slot in step.slots:
        wanted = {slot.slot: conditions.get(slot.slot, "*")}
        fitting = (
            value
            for value in (slot.default, *slot.values)
            if meets({slot.slot: value}, wanted, catalogue)
        )
        value = next(fitting, None)
        if value is None:
            return None
        chosen[slot.slot] = value
    return chosen if meets(chosen, conditions, catalogue) else None
