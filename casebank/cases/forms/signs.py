"""The parameters of a sign and how it is looked for, as a form that keeps everything typed."""

from __future__ import annotations

import json
import re
from functools import cache
from typing import Any

from django import forms

from casebank.cases.forms.fields import Choices, Pick, Typed
from casebank.cases.forms.sign_asked import asked
from casebank.cases.forms.sign_document import ROOT, Data, controls, pieces
from casebank.cases.forms.sign_fields import field_for
from casebank.cases.forms.sign_shape import part_of
from casebank.cases.forms.sign_words import KINDS
from casebank.cases.signs import NotASignError, Tried, read_spec, words_of
from casebank.core.fixtures import load_catalogue, sign_texts
from casebank.domain.casefile.problems import Problem
from casebank.domain.signs.breath.listen import SITES as LUNG_SITES
from casebank.domain.signs.heart.transmission import SITES as HEART_SITES

SLOTS = ("site", "side", "instrument", "posture", "breathing", "timing", "effort")
LABELS = {"timing": "Timed against"}
USUAL = ("", "As usual")
KEPT = "Another kind keeps the patient and the rhythm; all else begins as usual."
HERE = {"autofocus": True, "data-focus": ""}
"""Where to go on after a row's button, with scripts and without."""
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
    """A sign by fields or JSON, and a technique; once valid, ``tried`` and ``words`` hold the sign.

    It is bound to what the fields show next: a row's button and edited JSON have acted already.
    """

    use_required_attribute = False
    kind = Pick("Kind of sign", choices=KINDS, help_text=KEPT)
    spec = Typed("Parameters in JSON", tall=14, strip=False)
    before = Typed("The parameters the fields show", strip=False, widget=forms.HiddenInput())

    def __init__(self, data: Data) -> None:
        self.asked = asked(data)
        shape = part_of(self.asked.kind)
        self.piece = pieces(shape, self.asked.spec)
        super().__init__(self._next(data))
        self.problems: tuple[Problem, ...] = ()
        self.tried: Tried | None = None
        self.words = ""
        self.fields["spec"].widget.attrs["spellcheck"] = "false"
        for slot in SLOTS:
            self.fields[slot] = forms.ChoiceField(
                label=LABELS.get(slot, slot.capitalize()), choices=choices_of(slot), required=False
            )
        self._add_fields()

    def _next(self, data: Data) -> dict[str, Any]:
        technique = {slot: data[slot] for slot in SLOTS if slot in data}
        if self.asked.focus == "kind" and technique.get("site") not in sites_of(self.asked.kind):
            technique.pop("site", None)
        wrong, right = self.asked.wrong_json, self.asked.laid_out
        text = right if wrong is None else wrong
        given = {"kind": self.asked.kind, "spec": text, "before": right}
        return {**controls(self.piece), **technique, **given}

    def _add_fields(self) -> None:
        for piece in self.piece.every():
            for name, (leaf, value) in piece.holds.items():
                self.fields[name] = field_for(leaf, value)
            piece.fields = [self[name] for name in piece.holds]
            if piece.fields and self.asked.focus == piece.name:
                piece.fields[0].field.widget.attrs.update(HERE)
        if self.asked.focus == "kind":
            self.fields["kind"].widget.attrs.update(HERE)

    def technique_fields(self) -> list[forms.BoundField]:
        """The fields of the technique."""
        return [self[slot] for slot in SLOTS]

    def clean(self) -> dict[str, Any]:
        """Read the sign and put it into words; every problem goes to ``problems``."""
        data = self.cleaned_data
        technique = {slot: data[slot] for slot in SLOTS if data.get(slot)}
        wrong = self.asked.wrong_json
        try:
            spec = read_spec(self.asked.compact if wrong is None else wrong)
        except NotASignError as failure:
            self.refuse(failure)
            return data
        try:
            tried = Tried(spec, technique)
            self.words = words_of(tried)
        except NotASignError as failure:
            self.refuse(failure, "of-signs" if spec.kind == "picture" else "site")
        else:
            self.tried = tried
        return data

    def refuse(self, failure: NotASignError, whole: str = "spec") -> None:
        """Say what is wrong beside its field, or at the JSON with its path; ``whole`` has none."""
        self.problems = failure.problems
        for problem in failure.problems:
            name = self._field_of(problem) if problem.path else whole
            told = f"{problem.path or 'The whole'}: {problem.message}."
            self.add_error(name, told if name == "spec" else self._at_field(name, problem))

    def _field_of(self, problem: Problem) -> str:
        name = f"{ROOT}-{re.sub(r'[][.]+', '-', problem.path).strip('-')}"
        while name not in self.fields and name != ROOT:
            name = name.rpartition("-")[0]
        return name if name in self.fields and self.asked.wrong_json is None else "spec"

    def _at_field(self, name: str, problem: Problem) -> str:
        widget = self.fields[name].widget
        if problem.path and isinstance(widget, forms.TextInput) and widget.input_type == "text":
            return "Must be a number, written in digits."
        return f"{problem.message[:1].upper()}{problem.message[1:]}."


def sites_of(kind: str) -> tuple[str, ...]:
    """The sites where a kind can be tried, as the form offers them."""
    everywhere = tuple(OFFERED["site"])
    return {"heart-sound": HEART_SITES, "breath-sound": LUNG_SITES}.get(kind, everywhere)


def filled_with(name: str) -> SignForm:
    """The form as if this example had been sent; KeyError for an unknown one."""
    example = examples()[name]
    text = json.dumps(example["spec"], indent=2)
    return SignForm({"spec": text, **example["technique"]})
