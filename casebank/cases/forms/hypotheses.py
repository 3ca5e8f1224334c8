"""The editor's page of hypotheses: what this case takes seriously, and what is true."""

from __future__ import annotations

from django import forms

from casebank.cases.forms.editor import Editor, Row, kept
from casebank.cases.forms.fields import Figure, Named
from casebank.cases.forms.names import diagnosis_label, diagnosis_slug
from casebank.cases.forms.raw import Raw, filled, part, percent, percent_shown, rows, shown, words
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

    def parts(self) -> list[object]:
        return [self.rows]

    def write(self, document: Raw) -> None:
        standing = [form for form in kept(self.rows) if isinstance(form, HypothesisRow)]
        true = [form.slug for form in standing if form.typed("is_true") and form.slug]
        before = words(document, "truth")
        document["hypotheses"] = [form.row() for form in standing]
        document["truth"] = before if sorted(before) == sorted(true) else true
        renamed = {form.typed("was"): form.slug for form in standing if form.slug}
        _rename(document, {old: new for old, new in renamed.items() if old and old != new})


def _rename(document: Raw, renamed: dict[str, str]) -> None:
    """A corrected diagnosis keeps its likelihoods: evidence follows the new name."""
    for finding in rows(document, "findings"):
        evidence = part(finding, "evidence")
        ratios = part(evidence, "ratios")
        if "targets" in ratios:
            ratios["targets"] = [renamed.get(name, name) for name in words(ratios, "targets")]
        for row in rows(evidence, "table"):
            given = part(row, "given")
            row["given"] = {renamed.get(name, name): value for name, value in given.items()}
