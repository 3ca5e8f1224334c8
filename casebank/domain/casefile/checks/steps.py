"""Rules shared by everything that names a step: it is known, simple, and its conditions fit."""

from __future__ import annotations

from collections.abc import Iterator

from casebank.domain.casefile.problems import Problem, error, unknown
from casebank.domain.casefile.techniques import count_techniques, is_possible
from casebank.domain.examination.conditions import Conditions, condition_problems
from casebank.domain.examination.model import Catalogue, Step

MAX_TECHNIQUES = 20_000


def step_problems(path: str, slug: str, catalogue: Catalogue) -> Iterator[Problem]:
    """Errors where the step is unknown, or is a composite: only its parts are ever done."""
    step = catalogue.steps.get(slug)
    if step is None:
        yield unknown(path, "step", slug, catalogue.steps)
    elif step.parts:
        yield error(path, f"{slug} is made of other steps; name one of {', '.join(step.parts)}")


def when_problems(
    path: str, slug: str, when: Conditions, catalogue: Catalogue
) -> Iterator[Problem]:
    """Errors of the conditions, each at its slot; none where the step itself is unknown."""
    step = catalogue.steps.get(slug)
    if step is None:
        return
    for slot, condition in when.items():
        for sentence in condition_problems({slot: condition}, step, catalogue):
            yield error(f"{path}.{slot}", sentence)


def never_met(path: str, step: Step, catalogue: Catalogue, *when: Conditions) -> Iterator[Problem]:
    """An error where no technique of the step meets all the conditions, or too many to try."""
    slots = {slot for conditions in when for slot in conditions}
    count = count_techniques(step, slots)
    if count > MAX_TECHNIQUES:
        yield error(path, f"mentions too many slots: {count:,} techniques; name fewer slots")
    elif not is_possible(step, catalogue, *when):
        yield error(path, f"no technique of {step.slug} meets this; loosen the conditions")
