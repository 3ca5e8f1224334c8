"""The vocabulary of the examination: steps, technique slots and their values.

Owns the immutable types. Does not read files (see ``catalogue``) or text (see ``resolve``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from casebank.domain.examination.vocabulary import Vocabulary

Technique = Mapping[str, str]
"""Slot name to value slug, e.g. ``{"site": "apex", "instrument": "bell"}``."""

SLOTS = ("site", "side", "instrument", "posture", "breathing", "timing", "effort")


class Method(StrEnum):
    """The ways of finding out, in the order the trade teaches them, then the acts."""

    ASK = "ask"
    INSPECT = "inspect"
    PALPATE = "palpate"
    PERCUSS = "percuss"
    AUSCULTATE = "auscultate"
    MEASURE = "measure"
    MANOEUVRE = "manoeuvre"
    BEDSIDE_TEST = "bedside test"
    INVESTIGATION = "investigation"
    TREAT = "treat"


class Need(StrEnum):
    """What must have been done before a step that demands it."""

    HYGIENE = "hygiene"
    CONSENT = "consent"
    CHAPERONE = "chaperone"


@dataclass(frozen=True)
class SlotValue:
    """One value a slot can take; ``rank`` orders graded slots, e.g. light < firm."""

    slot: str
    slug: str
    label: str
    phrases: tuple[str, ...] = ()
    rank: int | None = None


@dataclass(frozen=True)
class StepSlot:
    """The values one step allows for one slot; ``default`` is used when nothing is said."""

    slot: str
    values: tuple[str, ...]
    default: str


@dataclass(frozen=True)
class NormalFinding:
    """What the step shows in health for a person of this age (years, inclusive) and sex."""

    text: str
    age_min: int = 0
    age_max: int = 130
    sex: str | None = None

    def fits(self, age: int, sex: str) -> bool:
        """Whether this wording holds for a person of that age and sex."""
        return self.age_min <= age <= self.age_max and self.sex in (None, sex)


@dataclass(frozen=True)
class Step:
    """One thing a clinician does or asks.

    ``minutes`` is time at the bedside, ``discomfort`` 0-3, ``resource`` units of cost beyond time.
    ``parts`` lists the steps a composite request expands into; a composite has no finding itself.
    """

    slug: str
    label: str
    system: str
    region: str
    method: Method
    minutes: float
    discomfort: int
    resource: float
    looks_for: str
    how: str
    synonyms: tuple[str, ...]
    normal: tuple[NormalFinding, ...]
    slots: tuple[StepSlot, ...] = ()
    needs: frozenset[Need] = frozenset()
    provides: Need | None = None
    cautions: str = ""
    parts: tuple[str, ...] = ()

    @property
    def price(self) -> float:
        """Minutes + 2 x discomfort + resource units."""
        return self.minutes + 2 * self.discomfort + self.resource

    def slot(self, name: str) -> StepSlot | None:
        """The step's slot of that name, or None where the step does not take it."""
        return next((slot for slot in self.slots if slot.slot == name), None)

    def full_technique(self, said: Technique) -> dict[str, str]:
        """The technique used: what was said, completed by the step's defaults."""
        return {slot.slot: said.get(slot.slot, slot.default) for slot in self.slots}

    def normal_for(self, age: int, sex: str) -> str:
        """The normal finding for that age and sex; the first wording that fits."""
        return next(finding.text for finding in self.normal if finding.fits(age, sex))


@dataclass(frozen=True)
class Diagnosis:
    """A name a student may put in a differential; the list is shared by all cases."""

    slug: str
    label: str
    synonyms: tuple[str, ...] = ()


@dataclass(frozen=True)
class Catalogue:
    """All steps, values, diagnoses and signs of one release; ``checksum`` names the release."""

    steps: Mapping[str, Step]
    values: Mapping[tuple[str, str], SlotValue]
    diagnoses: Mapping[str, Diagnosis]
    checksum: str = ""
    systems: tuple[str, ...] = field(default=())
    vocabulary: Vocabulary = field(default_factory=Vocabulary)

    def value(self, slot: str, slug: str) -> SlotValue:
        """The slot's value of that slug; KeyError if the lexicon has none."""
        return self.values[(slot, slug)]

    def rank(self, slot: str, slug: str) -> int | None:
        """The value's place on its slot's scale, or None where the slot is not graded."""
        known = self.values.get((slot, slug))
        return known.rank if known else None
