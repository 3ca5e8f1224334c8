"""Form fields that keep whatever is typed: the case check judges, not the form."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from django import forms

Choices = Sequence[tuple[str, str]]


class Typed(forms.CharField):
    """Text that is never refused; ``required`` only says whether the label calls it optional."""

    def __init__(self, label: str, *, tall: int = 0, optional: bool = False, **more: Any) -> None:
        widget = forms.Textarea(attrs={"rows": tall}) if tall else forms.TextInput()
        kept = {"label": label, "required": not optional, "widget": widget, **more}
        super().__init__(**kept)
        self.validators = []

    def validate(self, value: Any) -> None:
        """Accept anything."""

    def to_python(self, value: Any) -> str:
        """The text without NUL, which no database column of text can hold."""
        return str(super().to_python(value) or "").replace("\0", "").replace("\r\n", "\n")


class Figure(Typed):
    """A number, typed as text so that a slip is kept and can be corrected."""

    def __init__(self, label: str, **more: Any) -> None:
        super().__init__(label, **more)
        self.widget.attrs.update({"inputmode": "decimal", "autocomplete": "off"})


class Named(Typed):
    """A name from a list on the page (``<datalist>``), typed or picked."""

    def __init__(self, label: str, *, options: str, **more: Any) -> None:
        super().__init__(label, **more)
        self.widget.attrs.update({"list": options, "autocomplete": "off"})


class Pick(Typed):
    """One of a few, as a select; a value that stands already is kept among them."""

    def __init__(self, label: str, *, choices: Choices = (), **more: Any) -> None:
        super().__init__(label, widget=forms.Select(choices=list(choices)), **more)


class Ticks(forms.MultipleChoiceField):
    """Any of a few, as ticks; unknown values that stand already are offered too."""

    def __init__(self, label: str, *, choices: Choices = (), **more: Any) -> None:
        super().__init__(
            label=label,
            choices=list(choices),
            required=False,
            widget=forms.CheckboxSelectMultiple,
            **more,
        )

    def validate(self, value: Any) -> None:
        """Accept anything."""


def offer(field: forms.Field, choices: Choices, standing: Iterable[str]) -> None:
    """Give a Pick or Ticks these choices, and the values that stand outside them."""
    known = {value for value, _ in choices}
    extra = [(value, value) for value in standing if value and value not in known]
    if isinstance(field, Ticks):
        field.choices = [*choices, *extra]
    elif isinstance(field.widget, forms.Select):
        field.widget.choices = [*choices, *extra]
