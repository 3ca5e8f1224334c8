"""How the words typed so far are read: chips, and slots to correct by hand.

Nothing is done or charged here, and nothing here knows the case.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass

from casebank.cases.library import resolver_for
from casebank.domain.encounter.model import EncounterError, State
from casebank.domain.examination.model import Catalogue
from casebank.domain.examination.resolution import ResolvedRequest
from casebank.domain.visibility import Chip, chips_of
from casebank.encounters.overrides import NONE, Overrides, SlotChoice, applied, choices_of
from casebank.encounters.reading import LONGEST_REQUEST, previous_request


@dataclass(frozen=True)
class ReadBack:
    """How one request in the words is read; ``choices`` where it may be corrected by hand."""

    step: str
    label: str
    chips: tuple[Chip, ...]
    minutes: float
    choices: tuple[SlotChoice, ...] = ()

    @property
    def words(self) -> str:
        """The same in one sentence."""
        said = ", ".join(
            chip.label if chip.said else f"{chip.label} as usual" for chip in self.chips
        )
        return f"{self.label}: {said}." if said else f"{self.label}."


def read_back_of(
    text: str, catalogue: Catalogue, state: State, overrides: Overrides = NONE
) -> list[ReadBack]:
    """How the words are read so far; empty while they are too few or not clear.

    One request alone offers its slots to be picked by hand, with earlier picks that still fit.
    """
    if len(text.strip()) < 3 or len(text) > LONGEST_REQUEST:
        return []
    found = resolver_for(catalogue).resolve(text, previous=previous_request(state)).requests
    is_alone = len(found) == 1
    return [_read_back(one, catalogue, overrides if is_alone else None) for one in found]


def _read_back(one: ResolvedRequest, catalogue: Catalogue, overrides: Overrides | None) -> ReadBack:
    step, technique = catalogue.steps[one.step], dict(one.technique)
    choices: tuple[SlotChoice, ...] = ()
    if overrides is not None:
        with suppress(EncounterError):
            technique = applied(overrides, step, one.technique, catalogue)
        choices = choices_of(step, one.technique, technique, catalogue)
    return ReadBack(
        step.slug,
        step.label,
        chips_of(step, step.full_technique(technique), technique, catalogue),
        sum(catalogue.steps[part].minutes for part in step.parts) or step.minutes,
        choices,
    )
