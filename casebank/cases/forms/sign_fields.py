"""The Django fields of a sign's form: one for each field of the specification, by its shape."""

from __future__ import annotations

from typing import Any

from django import forms

from casebank.cases.forms.fields import Pick, Ticks, Typed, offer
from casebank.cases.forms.sign_document import Typed as Held
from casebank.cases.forms.sign_document import number
from casebank.cases.forms.sign_shape import Leaf
from casebank.cases.forms.sign_words import choices_for, hint_of, label_of


def field_for(leaf: Leaf, value: Held) -> forms.Field:
    """The field that shows this value; all are required to look at, none refuses."""
    label, hint = label_of(leaf), hint_of(leaf)
    if leaf.shape in ("number", "whole"):
        return Typed(label, help_text=hint, widget=_number_input(leaf, str(value)))
    made: forms.Field
    if leaf.shape == "ticks":
        made = Ticks(label, help_text=hint)
        made.required = leaf.is_required
    else:
        made = Pick(label, help_text=hint)
    offer(made, choices_for(leaf), value if isinstance(value, list) else [value])
    return made


def _number_input(leaf: Leaf, value: str) -> forms.Widget:
    """A number's control; plain text where the value is no number, so that it is shown."""
    attrs: dict[str, Any] = {"autocomplete": "off", "inputmode": "decimal"}
    if value and isinstance(number(value), str):
        return forms.TextInput(attrs)
    limits = {"min": _attr(leaf.low), "max": _attr(leaf.high), "step": _step(leaf, value)}
    return forms.NumberInput({**attrs, **{name: one for name, one in limits.items() if one}})


def _attr(limit: float | None) -> str:
    return "" if limit is None else f"{limit:.10g}"


def _step(leaf: Leaf, value: str) -> str:
    """What an arrow key adds; ``any`` where the value that stands is between two steps."""
    low, high = leaf.low or 0, leaf.high or 0
    if leaf.shape == "whole":
        return "1"
    step = 0.05 if high - low <= 4 else 0.5 if high - low <= 60 else 1
    stands = number(value)
    if isinstance(stands, str) or not low <= stands <= high:
        return str(step)
    steps = (stands - low) / step
    return str(step) if abs(steps - round(steps)) < 1e-6 else "any"
