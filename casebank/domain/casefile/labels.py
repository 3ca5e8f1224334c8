"""What a reader calls an item of a scheme and a diagnosis; owns no rule."""

from __future__ import annotations

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Wanted
from casebank.domain.examination.conditions import in_words


def essential_label(case: CompiledCase, item: Wanted) -> str:
    """The step's label, with what counts as doing it where several essentials share the step."""
    label = str(case.catalogue.steps[item.step].label)
    same = [one for one in case.document.scheme.essential if one.step == item.step]
    details = in_words(item.when, case.catalogue) if len(same) > 1 else ""
    return f"{label} ({details})" if details else label


def diagnosis_label(case: CompiledCase, slug: str) -> str:
    """The diagnosis as the shared list spells it."""
    known = case.catalogue.diagnoses.get(slug)
    return known.label if known else slug
