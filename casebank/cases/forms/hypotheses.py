"""The editor's page of hypotheses: what this case takes seriously, and what is true.

Also whom the priors are of, and which diagnoses may be had at once.
"""

from __future__ import annotations

from django import forms

from casebank.cases.forms.editor import Editor, Page, Row, kept
from casebank.cases.forms.evidence import hypothesis_choices
from casebank.cases.forms.fields import Figure, Named, Ticks, Typed, offer
from casebank.cases.forms.names import diagnosis_label, diagnosis_slug
from casebank.cases.forms.raw import (
    Raw,
    filled,
    new_slug,
    part,
    percent,
    percent_shown,
    rows,
    shown,
    words,
)
from casebank.domain.examination.model import Catalogue


class HypothesisRow(Row):
    """One hypothesis."""

    was = forms.CharField(required=False, widget=forms.HiddenInput)
    diagnosis = Named("Diagnosis", options="diagnoses", help_text="Picked from the shared list.")
    prior = Figure("Before the examination", help_text="Percent; all together 100.")
    must_not_miss = forms.BooleanField(label="Must not be missed", required=False)
    is_true = forms.BooleanField(label="True in this patient", required=False)

    @classmethod
    def shown(cls, row: Raw, catalogue: Catalogue) -> Raw:
        return {
            "was": shown(row.get("diagnosis")),
            "diagnosis": diagnosis_label(row.get("diagnosis"), catalogue),
            "prior": percent_shown(row.get("prior")),
            "must_not_miss": row.get("must_not_miss") is True,
            "is_true": row["is_true"],
        }

    @property
    def slug(self) -> str:
        """The diagnosis meant."""
        return diagnosis_slug(self.typed("diagnosis"), self.catalogue)

    def row(self) -> Raw:
        return filled(
            diagnosis=self.slug,
            prior=percent(self.typed("prior")),
            must_not_miss=bool(self.typed("must_not_miss")) or None,
        )


class PresentationForm(Page):
    """Whom the percentages before the examination are of."""

    complaint = Typed(
        "People who come with", optional=True, help_text="Like: tightness of the chest on effort."
    )
    setting = Typed("To", optional=True, help_text="Like: a medical clinic, sent by their doctor.")
    prior_source = Typed(
        "Source of the percentages", optional=True,
        help_text="Author, journal and year; or the word “illustrative”.",
    )  # fmt: skip

    def shown(self) -> Raw:
        standing = part(self.document, "presentation")
        return {
            "complaint": shown(standing.get("complaint")),
            "setting": shown(standing.get("setting")),
            "prior_source": shown(standing.get("source")),
        }

    def write(self, document: Raw) -> None:
        typed = self.cleaned_data
        given = filled(
            complaint=typed["complaint"], setting=typed["setting"], source=typed["prior_source"]
        )
        document.pop("presentation", None)
        document.update(filled(presentation=given))


class TogetherRow(Row):
    """Diagnoses that a patient may have at once."""

    name = forms.CharField(required=False, widget=forms.HiddenInput)
    diagnoses = Ticks("At once")
    prior = Figure("Before the examination", optional=True, help_text="Percent, of all together.")

    def prepare(self) -> None:
        standing = self.initial.get("diagnoses", [])
        offer(self.fields["diagnoses"], hypothesis_choices(self.document, self.catalogue), standing)

    @classmethod
    def shown(cls, row: Raw, catalogue: Catalogue) -> Raw:
        return {
            "name": shown(row.get("id")),
            "diagnoses": words(row, "diagnoses"),
            "prior": percent_shown(row.get("prior")),
        }

    def row(self) -> Raw:
        before, now = self.initial.get("diagnoses", []), list(self.typed("diagnoses"))
        return filled(
            id=self.typed("name"),
            diagnoses=before if sorted(before) == sorted(now) else now,
            prior=percent(self.typed("prior")),
        )


class HypothesesEditor(Editor):
    """Hypotheses with priors, and the truth."""

    template = "cases/edit_hypotheses.html"

    def build(self) -> None:
        true = words(self.document, "truth")
        standing = rows(self.document, "hypotheses")
        known = {shown(row.get("diagnosis")) for row in standing}
        beyond = [{"diagnosis": slug} for slug in true if slug not in known]
        marked = [
            {**row, "is_true": shown(row.get("diagnosis")) in true} for row in [*standing, *beyond]
        ]
        self.rows = self.row_set(HypothesisRow, "hypotheses", marked)
        self.presentation = PresentationForm(self.document, self.catalogue, self.data)
        self.together = self.row_set(TogetherRow, "together", rows(self.document, "together"))

    def parts(self) -> list[object]:
        return [self.presentation, self.rows, self.together]

    def write(self, document: Raw) -> None:
        standing = [form for form in kept(self.rows) if isinstance(form, HypothesisRow)]
        true = [form.slug for form in standing if form.typed("is_true") and form.slug]
        before = words(document, "truth")
        document["hypotheses"] = [form.row() for form in standing]
        self.presentation.write(document)
        document.pop("together", None)
        document.update(filled(together=_named([form.row() for form in kept(self.together)])))
        document["truth"] = before if sorted(before) == sorted(true) else true
        renamed = {form.typed("was"): form.slug for form in standing if form.slug}
        _rename(document, {old: new for old, new in renamed.items() if old and old != new})


def _named(together: list[Raw]) -> list[Raw]:
    """Each with a name by which tables can give its chances."""
    taken = [shown(row.get("id")) for row in together]
    for row in together:
        if not row.get("id"):
            row["id"] = new_slug(" with ".join(words(row, "diagnoses")), taken, "together")
            taken.append(row["id"])
    return together


def _rename(document: Raw, renamed: dict[str, str]) -> None:
    """A corrected diagnosis keeps its likelihoods: evidence follows the new name."""
    for row in rows(document, "together"):
        row["diagnoses"] = [renamed.get(name, name) for name in words(row, "diagnoses")]
    for finding in rows(document, "findings"):
        evidence = part(finding, "evidence")
        for pair in (part(evidence, "ratios"), part(evidence, "accuracy")):
            if "targets" in pair:
                pair["targets"] = [renamed.get(name, name) for name in words(pair, "targets")]
        for row in rows(evidence, "table"):
            given = part(row, "given")
            row["given"] = {renamed.get(name, name): value for name, value in given.items()}
