"""The parameters of a sign and how it is looked for, as a form that keeps everything typed."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from django import forms

from casebank.cases.forms.fields import Choices, Typed
from casebank.cases.signs import NotASignError, Tried, read_spec, words_of
from casebank.core.fixtures import load_catalogue, sign_texts
from casebank.domain.casefile.problems import Problem
from casebank.domain.signs.breath.listen import SITES as LUNG_SITES
from casebank.domain.signs.heart.transmission import SITES as HEART_SITES

SLOTS = ("site", "side", "instrument", "posture", "breathing", "timing", "effort")
LABELS = {"timing": "Timed against"}
USUAL = ("", "As usual")
OFFERED = {
    "site": tuple(dict.fromkeys((*HEART_SITES, *LUNG_SITES))),
    "instrument": ("diaphragm", "bell"),
    "timing": ("untimed", "carotid"),
}
"""Of these slots, only what the renderers know; of the others all values of the catalogue."""


@cache
def examples() -> dict[str, dict[str, Any]]:
    """The shipped examples by name, such as ``heart-01``."""
    return {name.removesuffix(".json"): json.loads(t) for name, t in sign_texts().items()}


@cache
def choices_of(slot: str) -> Choices:
    """The values of a technique slot that can be chosen, the empty one first."""
    values = load_catalogue().values
    slugs = OFFERED.get(slot) or tuple(slug for of, slug in values if of == slot)
    labels = {slug: values[slot, slug].label for slug in slugs if (slot, slug) in values}
    return [USUAL, *((slug, labels.get(slug, slug.replace("-", " "))) for slug in slugs)]


class ExampleForm(forms.Form):
    """Which example to begin with."""

    example = forms.ChoiceField(
        label="Begin with an example", choices=lambda: [(name, name) for name in examples()]
    )


class SignForm(forms.Form):
    """A specification and a technique; once valid, ``tried`` and ``words`` hold the sign."""

    use_required_attribute = False
    spec = Typed("Parameters in JSON", tall=14, strip=False)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.problems: tuple[Problem, ...] = ()
        self.tried: Tried | None = None
        self.words = ""
        self.fields["spec"].widget.attrs["spellcheck"] = "false"
        for slot in SLOTS:
            self.fields[slot] = forms.ChoiceField(
                label=LABELS.get(slot, slot.capitalize()), choices=choices_of(slot), required=False
            )

    def technique_fields(self) -> list[forms.BoundField]:
        """The fields of the technique."""
        return [self[slot] for slot in SLOTS]

    def clean(self) -> dict[str, Any]:
        """Read the sign and put it into words; every problem goes to ``problems``."""
        data = self.cleaned_data
        technique = {slot: data[slot] for slot in SLOTS if data.get(slot)}
        try:
            tried = Tried(read_spec(data.get("spec", "")), technique)
            self.words = words_of(tried)
        except NotASignError as failure:
            self.refuse(failure)
        else:
            self.tried = tried
        return data

    def refuse(self, failure: NotASignError) -> None:
        """Say at the specification what is wrong with it, each problem with its path."""
        self.problems = failure.problems
        for problem in failure.problems:
            self.add_error("spec", f"{problem.path or 'The whole'}: {problem.message}.")


def filled_with(name: str) -> SignForm:
    """The form as if this example had been sent; KeyError for an unknown one."""
    example = examples()[name]
    text = json.dumps(example["spec"], indent=2)
    return SignForm({"spec": text, **example["technique"]})
