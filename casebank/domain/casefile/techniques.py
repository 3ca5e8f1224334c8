"""The techniques a step can be done with, and which answer of a finding each one gets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product
from math import prod

from casebank.domain.casefile.schema import Finding
from casebank.domain.examination.conditions import Conditions, meets
from casebank.domain.examination.model import Catalogue, Step, Technique


def techniques(step: Step, slots: Iterable[str] | None = None) -> Iterator[dict[str, str]]:
    """Every full technique of the step; slots not listed (None: all listed) keep their default."""
    wanted = {slot.slot for slot in step.slots} if slots is None else set(slots)
    choices = [slot.values if slot.slot in wanted else (slot.default,) for slot in step.slots]
    names = [slot.slot for slot in step.slots]
    for values in product(*choices):
        yield dict(zip(names, values, strict=True))


def count_techniques(step: Step, slots: Iterable[str]) -> int:
    """How many techniques ``techniques`` would give."""
    wanted = set(slots)
    return prod(len(slot.values) for slot in step.slots if slot.slot in wanted)


def answer_index(finding: Finding, technique: Technique, catalogue: Catalogue) -> int:
    """The place of the first answer the full technique meets; StopIteration never in a fit case."""
    return next(
        place
        for place, answer in enumerate(finding.answers)
        if meets(technique, answer.when, catalogue)
    )


def is_possible(step: Step, catalogue: Catalogue, *conditions: Conditions) -> bool:
    """Whether some technique of the step meets all these conditions together."""
    slots = {slot for condition in conditions for slot in condition}
    return any(
        all(meets(technique, condition, catalogue) for condition in conditions)
        for technique in techniques(step, slots)
    )
