"""The editor's page of stages and of the moves between them."""

from __future__ import annotations

from django import forms

from casebank.cases.forms.editor import Editor, Row, kept
from casebank.cases.forms.fields import Choices, Figure, Named, Pick, Typed, offer
from casebank.cases.forms.names import conditions_shown, conditions_typed, step_label, step_slug
from casebank.cases.forms.raw import Raw, filled, new_slug, number, rows, shown
from casebank.domain.examination.model import Catalogue

WHEN_HELP = "Only with this technique, e.g. posture: sitting; breathing: deep | held-expiration"


def stage_choices(document: Raw) -> Choices:
    """The document's stages as choices."""
    return [(shown(s.get("id")), shown(s.get("label"))) for s in rows(document, "stages")]


class StageRow(Row):
    """One stage."""

    id = forms.CharField(required=False, widget=forms.HiddenInput)
    label = Typed("Stage", help_text="For authors and the debrief.")
    notice = Typed(
        "Notice", tall=2, optional=True, help_text="What the student is shown on entering it."
    )

    @classmethod
    def shown(cls, row: Raw, catalogue: Catalogue) -> Raw:
        return {name: shown(row.get(name)) for name in ("id", "label", "notice")}

    def row(self) -> Raw:
        return filled(**{name: self.typed(name) for name in ("id", "label", "notice")})


class MoveRow(Row):
    """One move from a stage to another."""

    source = Pick("From")
    to = Pick("To")
    after_minutes = Figure("After", optional=True, help_text="Minutes in the stage it leaves.")
    on_step = Named("Or when this is done", options="steps", optional=True)
    when = Typed("Done how", optional=True, help_text=WHEN_HELP)

    def prepare(self) -> None:
        choices = [("", "Choose"), *stage_choices(self.document)]
        for name in ("source", "to"):
            offer(self.fields[name], choices, [self.initial.get(name, "")])

    @classmethod
    def shown(cls, row: Raw, catalogue: Catalogue) -> Raw:
        return {
            "source": row["source"],
            "to": shown(row.get("to")),
            "after_minutes": shown(row.get("after_minutes")),
            "on_step": step_label(row.get("on_step"), catalogue),
            "when": conditions_shown(row.get("when")),
        }

    def row(self) -> Raw:
        return filled(
            to=self.typed("to"),
            after_minutes=number(self.typed("after_minutes")),
            on_step=step_slug(self.typed("on_step"), self.catalogue),
            when=conditions_typed(self.typed("when")),
        )


class StagesEditor(Editor):
    """Stages and moves."""

    template = "cases/edit_stages.html"

    def build(self) -> None:
        stages = rows(self.document, "stages")
        moves = [
            {**move, "source": shown(stage.get("id"))}
            for stage in stages
            for move in rows(stage, "moves")
        ]
        self.stages = self.row_set(StageRow, "stages", stages, ordered=True)
        self.moves = self.row_set(MoveRow, "moves", moves)

    def parts(self) -> list[object]:
        return [self.stages, self.moves]

    def write(self, document: Raw) -> None:
        stages = _named([form.row() for form in kept(self.stages)])
        left = _moves_by_stage(self.moves)
        for stage in stages:
            stage.update(filled(moves=left.pop(stage["id"], [])))
        _keep_strays(stages, left)
        document["stages"] = stages


def _named(stages: list[Raw]) -> list[Raw]:
    """Every stage with an id; new ones get theirs from the label."""
    taken = {stage["id"] for stage in stages if "id" in stage}
    for stage in stages:
        if "id" not in stage:
            stage["id"] = new_slug(stage.get("label", ""), taken, "stage")
            taken.add(stage["id"])
    return stages


def _moves_by_stage(moves: object) -> dict[str, list[Raw]]:
    found: dict[str, list[Raw]] = {}
    for form in kept(moves):  # type: ignore[arg-type]
        found.setdefault(form.typed("source"), []).append(form.row())
    return found


def _keep_strays(stages: list[Raw], left: dict[str, list[Raw]]) -> None:
    """A move whose "from" was not chosen yet stays with the first stage, where it is seen."""
    chosen_none = left.get("", [])
    if stages and chosen_none:
        stages[0]["moves"] = [*stages[0].get("moves", []), *chosen_none]
