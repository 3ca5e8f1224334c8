"""The editor's pages of the marking scheme: wanted steps, unsafe steps, order, weights."""

from __future__ import annotations

from typing import get_args

from django import forms

from casebank.cases.forms.editor import Editor, Page, Row, kept
from casebank.cases.forms.fields import Figure, Named, Pick, Ticks, Typed, offer
from casebank.cases.forms.names import (
    conditions_shown,
    conditions_typed,
    step_label,
    step_slug,
    takes_in_words,
)
from casebank.cases.forms.raw import (
    Raw,
    filled,
    new_slug,
    number,
    part,
    rows,
    shown,
    words,
)
from casebank.cases.forms.stages import WHEN_HELP, stage_choices
from casebank.domain.casefile.schema import Domain
from casebank.domain.examination.model import Catalogue

DEMANDS = (("hygiene", "Hand hygiene"), ("consent", "Consent"), ("chaperone", "A chaperone"))
KINDS = ("essential", "routine")
FIGURES = ("minutes", "surcharge_budget", "tau")


class SchemeRow(Row):
    """What rows of the scheme share: stages offered, steps by their label."""

    def prepare(self) -> None:
        choices = stage_choices(self.document)
        offer(self.fields["stages"], choices, self.initial.get("stages", []))
        if len(choices) < 2 and not self.initial.get("stages"):
            self.fields["stages"].widget = forms.MultipleHiddenInput()

    def step_meant(self) -> str:
        """The slug of the step."""
        return step_slug(self.typed("step"), self.catalogue)

    @property
    def hint(self) -> str:
        """The technique the row's step takes."""
        return takes_in_words(
            step_slug(self.initial.get("step", ""), self.catalogue), self.catalogue
        )


class WantedRow(SchemeRow):
    """A step that is essential or routine."""

    id = forms.CharField(required=False, widget=forms.HiddenInput)
    step = Named("Step", options="steps")
    why = Typed("Why", help_text="Read in the debrief.")
    when = Typed("Counts when done so", optional=True, help_text=WHEN_HELP)
    well = Typed("Done well when so", optional=True, help_text="Judged as technique.")
    stages = Ticks("Stages", help_text="None ticked: all.")
    weight = Figure("Weight", optional=True, help_text="Up to 10; empty: 1.")
    again_after = Figure("Wanted again after", optional=True, help_text="Minutes; empty: once.")

    @classmethod
    def shown(cls, row: Raw, catalogue: Catalogue) -> Raw:
        return {
            **{name: shown(row.get(name)) for name in ("id", "why", "weight", "again_after")},
            "step": step_label(row.get("step"), catalogue),
            "when": conditions_shown(row.get("when")),
            "well": conditions_shown(row.get("well")),
            "stages": words(row, "stages"),
        }

    def row(self) -> Raw:
        return filled(
            id=self.typed("id"),
            step=self.step_meant(),
            when=conditions_typed(self.typed("when")),
            well=conditions_typed(self.typed("well")),
            stages=self.typed("stages"),
            weight=number(self.typed("weight")),
            again_after=number(self.typed("again_after")),
            why=self.typed("why"),
        )


class UnsafeRow(SchemeRow):
    """A step that must not be done."""

    step = Named("Step", options="steps")
    why = Typed("Why")
    when = Typed("When done so", optional=True, help_text=WHEN_HELP)
    stages = Ticks("Stages", help_text="None ticked: all.")

    @classmethod
    def shown(cls, row: Raw, catalogue: Catalogue) -> Raw:
        return {
            "step": step_label(row.get("step"), catalogue),
            "why": shown(row.get("why")),
            "when": conditions_shown(row.get("when")),
            "stages": words(row, "stages"),
        }

    def row(self) -> Raw:
        return filled(
            step=self.step_meant(),
            when=conditions_typed(self.typed("when")),
            stages=self.typed("stages"),
            why=self.typed("why"),
        )


class OrderRow(Row):
    """One wanted step before another."""

    before = Pick("First")
    after = Pick("Then")
    why = Typed("Why")

    def prepare(self) -> None:
        choices = [("", "Choose"), *_wanted_choices(self.document, self.catalogue)]
        for name in ("before", "after"):
            offer(self.fields[name], choices, [self.initial.get(name, "")])

    @classmethod
    def shown(cls, row: Raw, catalogue: Catalogue) -> Raw:
        return {name: shown(row.get(name)) for name in ("before", "after", "why")}

    def row(self) -> Raw:
        return filled(**{name: self.typed(name) for name in ("before", "after", "why")})


def _wanted_choices(document: Raw, catalogue: Catalogue) -> list[tuple[str, str]]:
    scheme = part(document, "scheme")
    wanted = [row for kind in KINDS for row in rows(scheme, kind)]
    labels = [step_label(row.get("step"), catalogue) for row in wanted]
    return [
        (shown(row.get("id")), label if labels.count(label) == 1 else f"{label} ({row.get('id')})")
        for row, label in zip(wanted, labels, strict=True)
    ]


class WantedEditor(Editor):
    """The steps of one kind; subclasses say which."""

    kind = ""
    template = "cases/edit_wanted.html"

    def build(self) -> None:
        scheme = part(self.document, "scheme")
        self.rows = self.row_set(WantedRow, self.kind, rows(scheme, self.kind))

    def parts(self) -> list[object]:
        return [self.rows]

    def write(self, document: Raw) -> None:
        scheme = dict(part(document, "scheme"))
        wanted = [form.row() for form in kept(self.rows)]
        others = [row for kind in KINDS if kind != self.kind for row in rows(scheme, kind)]
        _name(wanted, {shown(row.get("id")) for row in [*wanted, *others]})
        document["scheme"] = {**scheme, self.kind: wanted}


def _name(wanted: list[Raw], taken: set[str]) -> None:
    for row in wanted:
        if "id" not in row:
            row["id"] = new_slug(row.get("step", ""), taken, "step")
            taken.add(row["id"])


class EssentialEditor(WantedEditor):
    """Steps no careful examiner leaves out."""

    kind = "essential"


class RoutineEditor(WantedEditor):
    """Steps that are fair to do."""

    kind = "routine"


class SafetyEditor(Editor):
    """Unsafe steps, and the order of the wanted ones."""

    template = "cases/edit_safety.html"

    def build(self) -> None:
        scheme = part(self.document, "scheme")
        self.unsafe = self.row_set(UnsafeRow, "unsafe", rows(scheme, "unsafe"))
        self.order = self.row_set(OrderRow, "order", rows(scheme, "order"))

    def parts(self) -> list[object]:
        return [self.unsafe, self.order]

    def write(self, document: Raw) -> None:
        unsafe = [form.row() for form in kept(self.unsafe)]
        order = [form.row() for form in kept(self.order)]
        document["scheme"] = {**part(document, "scheme"), "unsafe": unsafe, "order": order}


class WeightsForm(Page):
    """How marks are weighed, and what time and money a careful examiner needs."""

    minutes = Figure("Minutes", help_text="The time a careful examiner needs.")
    surcharge_budget = Figure(
        "Surcharge budget", help_text="At this surcharge the mark for economy is 0."
    )
    tau = Figure(
        "Least information", optional=True,
        help_text="In bits: a step expected to tell less than this is unneeded. Empty: 0.05.",
    )  # fmt: skip
    demands = Ticks("Demanded before touching the patient", choices=DEMANDS)

    def __init__(self, document: Raw, catalogue: Catalogue, data: object = None) -> None:
        self.scheme = part(document, "scheme")
        super().__init__(document, catalogue, data)  # type: ignore[arg-type]
        for name in get_args(Domain):
            self.fields[f"weight-{name}"] = Figure(name.capitalize())
            weight = part(self.scheme, "weights").get(name)
            self.initial[f"weight-{name}"] = shown(weight)
        offer(self.fields["demands"], DEMANDS, self.initial["demands"])

    def shown(self) -> Raw:
        demands = words(self.scheme, "demands") if "demands" in self.scheme else DEMANDS[:2]
        return {
            **{name: shown(self.scheme.get(name)) for name in FIGURES},
            "demands": [item if isinstance(item, str) else item[0] for item in demands],
        }

    @property
    def weights(self) -> list[object]:
        """The bound weight fields."""
        return [self[name] for name in self.fields if name.startswith("weight-")]

    def write(self, document: Raw) -> None:
        typed = self.cleaned_data
        weights = {n: number(typed[f"weight-{n}"]) for n in get_args(Domain)}
        figures = {n: number(typed[n]) for n in ("minutes", "surcharge_budget", "tau")}
        rest = {n: v for n, v in part(document, "scheme").items() if n not in figures}
        document["scheme"] = {
            **rest,
            **filled(**figures),
            "weights": filled(**weights),
            "demands": typed["demands"],
        }


class WeightsEditor(Editor):
    """Weights, time, budget, demands."""

    template = "cases/edit_weights.html"

    def build(self) -> None:
        self.form = WeightsForm(self.document, self.catalogue, self.data)

    def parts(self) -> list[WeightsForm]:
        return [self.form]

    def write(self, document: Raw) -> None:
        self.form.write(document)
