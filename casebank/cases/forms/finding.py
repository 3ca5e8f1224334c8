"""The editor's page of one finding: what its step shows, by technique, and what that means."""

from __future__ import annotations

import json

from django.forms import HiddenInput

from casebank.cases.forms.editor import Data, Editor, Page, Row, kept
from casebank.cases.forms.evidence import EvidenceForm, OutcomeRow
from casebank.cases.forms.fields import Named, Pick, Ticks, Typed, offer
from casebank.cases.forms.names import step_label, step_slug
from casebank.cases.forms.raw import Raw, filled, new_slug, part, rows, shown, words
from casebank.cases.forms.stages import stage_choices
from casebank.domain.casefile.compile import ABSENT, PRESENT
from casebank.domain.examination.model import SLOTS, Catalogue, StepSlot

STRENGTHS = (("clear", "Clear"), ("faint", "Faint"), ("absent", "Absent: the normal finding"))


class FindingForm(Page):
    """The finding's step, name and stages."""

    label = Typed("Name of the sign", help_text="For authors and the debrief.")
    step = Named("Step that shows it", options="steps", help_text="Type words of it and pick.")
    stages = Ticks("Stages in which it holds", help_text="None ticked: all.")

    def __init__(self, finding: Raw, document: Raw, catalogue: Catalogue, data: Data) -> None:
        self.finding = finding
        super().__init__(document, catalogue, data)
        offer(self.fields["stages"], stage_choices(document), words(finding, "stages"))

    def shown(self) -> Raw:
        return {
            "label": shown(self.finding.get("label")),
            "step": step_label(self.finding.get("step"), self.catalogue),
            "stages": words(self.finding, "stages"),
        }

    def given(self) -> Raw:
        """What was typed, as the finding holds it."""
        typed = self.cleaned_data
        ticked = typed["stages"]
        before = words(self.finding, "stages")
        return filled(
            label=typed["label"],
            step=step_slug(typed["step"], self.catalogue),
            stages=before if sorted(before) == sorted(ticked) else ticked,
        )


class AnswerRow(Row):
    """What is noticed with the techniques that meet the conditions."""

    strength = Pick("The sign is", choices=STRENGTHS, initial="clear")
    says = Typed("What is noticed", tall=2, optional=True, help_text="In the words of the bedside.")
    outcome = Typed(
        "Counts as", optional=True,
        help_text="An outcome of the evidence below; empty: tells nothing.",
    )  # fmt: skip

    sign = Typed("Sign to be named", optional=True, widget=HiddenInput())

    def prepare(self) -> None:
        self.hint = _sign_hint(self.initial.get("sign", ""))
        offer(self.fields["strength"], STRENGTHS, [self.initial.get("strength", "")])
        self.fields["outcome"].widget.attrs["list"] = "outcomes"
        self.slots = _slots(self.document, self.catalogue)
        standing = [name for name in SLOTS if f"when-{name}" in self.initial]
        for slot in dict.fromkeys([*self.slots, *standing]):
            self.fields[f"when-{slot}"] = self._condition(slot)
        self.order_fields([*self.when_names(), "says", "strength", "outcome"])

    def _condition(self, slot: str) -> Named:
        taken = self.slots.get(slot)
        help_text = f"Usual: {self._label(slot, taken.default)}" if taken else "Not taken."
        return Named(slot.capitalize(), options=f"slot-{slot}", optional=True, help_text=help_text)

    def _label(self, slot: str, value: str) -> str:
        known = self.catalogue.values.get((slot, value))
        return known.label if known else value

    def when_names(self) -> list[str]:
        """The names of the condition fields."""
        return [name for name in self.fields if name.startswith("when-")]

    @property
    def conditions(self) -> list[object]:
        """The bound condition fields."""
        return [self[name] for name in self.when_names()]

    @classmethod
    def shown(cls, row: Raw, catalogue: Catalogue) -> Raw:
        when = part(row, "when")
        return {
            **{name: shown(row.get(name)) for name in ("strength", "says", "outcome")},
            "sign": json.dumps(row["sign"]) if isinstance(row.get("sign"), dict) else "",
            **{f"when-{slot}": shown(line) for slot, line in when.items()},
        }

    def row(self) -> Raw:
        kept_slots = {n.removeprefix("when-"): self.typed(n) for n in self.when_names()}
        return filled(
            when=filled(**kept_slots),
            strength=self.typed("strength"),
            says=self.typed("says"),
            outcome=self.typed("outcome").strip().lower().replace(" ", "-"),
            sign=_sign(self.typed("sign")),
        )


def _sign(text: str) -> Raw:
    """The perceived sign that the page carried through."""
    try:
        found = json.loads(text or "{}")
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}


def _sign_hint(text: str) -> str:
    sign = _sign(text)
    if not sign:
        return ""
    kind = shown(part(sign, "spec").get("kind")).replace("-", " ") or "sign"
    return f"Given as a {kind} to hear or see and to be named. Change it in the whole document."


def _slots(finding: Raw, catalogue: Catalogue) -> dict[str, StepSlot]:
    step = catalogue.steps.get(shown(finding.get("step")))
    return {slot.slot: slot for slot in step.slots} if step else {}


class FindingEditor(Editor):
    """One finding of the document, at this place of the list."""

    template = "cases/edit_finding.html"

    def build(self) -> None:
        self.finding = rows(self.document, "findings")[self.place]
        evidence = part(self.finding, "evidence")
        self.form = FindingForm(self.finding, self.document, self.catalogue, self.data)
        self.answers = self.row_set(
            AnswerRow, "answers", rows(self.finding, "answers"), ordered=True, over=self.finding
        )
        self.evidence = EvidenceForm(evidence, self.document, self.catalogue, self.data)
        self.table = self.row_set(OutcomeRow, "table", rows(evidence, "table"))
        self.step = self.catalogue.steps.get(shown(self.finding.get("step")))

    def parts(self) -> list[object]:
        return [self.form, self.answers, self.evidence, self.table]

    def slots(self) -> list[tuple[str, list[tuple[str, str]]]]:
        """What each slot of the step offers, value and label, for the lists on the page."""
        taken = self.step.slots if self.step else ()
        known = self.catalogue.values
        return [
            (slot.slot, [(value, known[slot.slot, value].label) for value in slot.values])
            for slot in taken
        ]

    def outcomes(self) -> list[str]:
        """The outcomes an answer may count as."""
        named = [shown(row.get("outcome")) for row in rows(self.evidence.evidence, "table")]
        return named or [PRESENT, ABSENT]

    def write(self, document: Raw) -> None:
        evidence = self.evidence.given()
        table = [form.row() for form in kept(self.table)]
        finding = {
            **filled(id=self.finding.get("id") or self._new_id(document)),
            **self.form.given(),
            **filled(answers=[form.row() for form in kept(self.answers)]),
            **filled(evidence={**evidence, **filled(table=table)}),
        }
        document["findings"][self.place] = finding

    def _new_id(self, document: Raw) -> str:
        taken = [shown(row.get("id")) for row in rows(document, "findings")]
        return new_slug(self.form.cleaned_data["label"], taken, "finding")
