"""Technique picked by hand: what the chips of a read request, or a step's form, were set to.

Owns reading them from a form and laying them over what the words say. Knows no case.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from casebank.domain.encounter.model import EncounterError
from casebank.domain.examination.model import SLOTS, Catalogue, Step

LONGEST_VALUE = 64


@dataclass(frozen=True)
class Overrides:
    """Values picked by hand.

    ``changed`` holds, by slot, only what differs from what the form showed at first (``was``).
    ``step`` is the step they were picked for; empty: whichever step is read.
    """

    step: str = ""
    changed: Mapping[str, str] = field(default_factory=dict)
    was: Mapping[str, str] = field(default_factory=dict)

    @property
    def key(self) -> str:
        """The same text for the same picks; empty where nothing was changed."""
        return " ".join(f"{slot}={value}" for slot, value in sorted(self.changed.items()))


NONE = Overrides()


def overrides_from(form: Mapping[str, str]) -> Overrides:
    """The picks of a form: ``slot-<slot>`` is the pick, ``was-<slot>`` what was shown at first.

    Fields of slots that do not exist are kept, so that they are refused in words.
    """
    picked = {
        name.removeprefix("slot-")[:LONGEST_VALUE]: value[:LONGEST_VALUE]
        for name, value in form.items()
        if name.startswith("slot-") and value
    }
    was = {slot: form[f"was-{slot}"] for slot in picked if form.get(f"was-{slot}")}
    changed = {slot: value for slot, value in picked.items() if value != was.get(slot)}
    return Overrides(form.get("read-step", "")[:LONGEST_VALUE], changed, was)


def applied(
    overrides: Overrides, step: Step, said: Mapping[str, str], catalogue: Catalogue
) -> dict[str, str]:
    """What was said of the technique with the picks laid over it.

    Picks for another step fall away, and words said after a pick win over it. Raises
    EncounterError where the step does not take a pick.
    """
    technique = dict(said)
    if overrides.step not in ("", step.slug):
        return technique
    for slot, value in overrides.changed.items():
        refuse_untaken(step, slot, value, catalogue)
        if not _is_said_anew(overrides, said, slot):
            technique[slot] = value
    return technique


def _is_said_anew(overrides: Overrides, said: Mapping[str, str], slot: str) -> bool:
    return slot in said and slot in overrides.was and said[slot] != overrides.was[slot]


def refuse_untaken(step: Step, slot: str, value: str, catalogue: Catalogue) -> None:
    """Raise EncounterError, saying what may be chosen, where the step does not take the value."""
    taken = step.slot(slot)
    if taken is None:
        name = slot if slot in SLOTS else f"“{slot}”"
        raise EncounterError(f"“{step.label}” takes no {name}. Leave it out.")
    if value not in taken.values:
        allowed = ", ".join(catalogue.value(slot, one).label for one in taken.values)
        raise EncounterError(f"“{step.label}” has no such {slot}. Choose one of: {allowed}.")


@dataclass(frozen=True)
class SlotChoice:
    """One slot to pick by hand; ``is_said`` is False while it stands at its default."""

    slot: str
    was: str
    chosen: str
    is_said: bool
    options: tuple[tuple[str, str], ...]

    @property
    def label(self) -> str:
        """The chosen value in words."""
        return dict(self.options)[self.chosen]


def choices_of(
    step: Step, was: Mapping[str, str], technique: Mapping[str, str], catalogue: Catalogue
) -> tuple[SlotChoice, ...]:
    """Every slot of the step: ``was`` as the words are read, ``technique`` with picks over them.

    What was said or picked comes first.
    """
    first, chosen = step.full_technique(was), step.full_technique(technique)
    choices = [
        SlotChoice(
            taken.slot,
            first[taken.slot],
            chosen[taken.slot],
            taken.slot in technique,
            tuple((value, catalogue.value(taken.slot, value).label) for value in taken.values),
        )
        for taken in step.slots
    ]
    return tuple(sorted(choices, key=lambda choice: not choice.is_said))
