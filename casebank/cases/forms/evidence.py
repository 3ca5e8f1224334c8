"""The evidence of a finding: a pair of likelihood ratios, or a table of outcomes."""

from __future__ import annotations

from casebank.cases.forms.editor import Data, Page, Row
from casebank.cases.forms.fields import Choices, Figure, Ticks, Typed, offer
from casebank.cases.forms.names import diagnosis_label
from casebank.cases.forms.raw import (
    Raw,
    filled,
    number,
    part,
    percent,
    percent_shown,
    rows,
    shown,
    words,
)
from casebank.domain.examination.model import Catalogue


def hypothesis_choices(document: Raw, catalogue: Catalogue) -> Choices:
    """The document's hypotheses as choices."""
    slugs = [shown(row.get("diagnosis")) for row in rows(document, "hypotheses")]
    return [(slug, diagnosis_label(slug, catalogue)) for slug in slugs if slug]


class EvidenceForm(Page):
    """Source and group; targets and ratios."""

    source = Typed(
        "Source", optional=True,
        help_text="Author, journal and year; or the word “illustrative” where you made it up.",
    )  # fmt: skip
    group = Typed(
        "Evidence group", optional=True,
        help_text="Signs that are not independent share a group name; only the strongest counts.",
    )  # fmt: skip
    targets = Ticks("The ratios speak for")
    positive = Figure(
        "LR+", optional=True, help_text="Above 1: how much more likely when the sign is present."
    )
    negative = Figure(
        "LR−", optional=True, help_text="0 to below 1: how much less likely when it is absent."
    )

    def __init__(self, evidence: Raw, document: Raw, catalogue: Catalogue, data: Data) -> None:
        self.evidence, self.ratios = evidence, part(evidence, "ratios")
        super().__init__(document, catalogue, data)
        choices = hypothesis_choices(document, catalogue)
        offer(self.fields["targets"], choices, words(self.ratios, "targets"))

    def shown(self) -> Raw:
        return {
            "source": shown(self.evidence.get("source")),
            "group": shown(self.evidence.get("group")),
            "targets": words(self.ratios, "targets"),
            "positive": shown(self.ratios.get("positive")),
            "negative": shown(self.ratios.get("negative")),
        }

    def given(self) -> Raw:
        """The evidence without its table; an empty object where nothing was typed."""
        typed = self.cleaned_data
        before = words(self.ratios, "targets")
        targets = typed["targets"]
        return filled(
            source=typed["source"],
            group=typed["group"].lower().replace(" ", "-"),
            ratios=filled(
                targets=before if sorted(before) == sorted(targets) else targets,
                positive=number(typed["positive"]),
                negative=number(typed["negative"]),
                # Not edited here; kept while the ratio it belongs to stands.
                **self._intervals_kept(typed),
            ),
        )

    def _intervals_kept(self, typed: Raw) -> Raw:
        return {
            f"{name}_interval": self.ratios.get(f"{name}_interval")
            for name in ("positive", "negative")
            if number(typed[name]) == self.ratios.get(name)
        }


class OutcomeRow(Row):
    """One outcome with its probability, in percent, given each hypothesis."""

    outcome = Typed("Outcome", optional=True)

    def prepare(self) -> None:
        choices = hypothesis_choices(self.document, self.catalogue)
        standing = [n.removeprefix("given-") for n in self.initial if n.startswith("given-")]
        labels = {**{slug: slug for slug in standing}, **dict(choices)}
        for slug in dict.fromkeys([slug for slug, _ in choices] + standing):
            self.fields[f"given-{slug}"] = Figure(f"% if {labels[slug]}", optional=True)

    @classmethod
    def shown(cls, row: Raw, catalogue: Catalogue) -> Raw:
        given = part(row, "given")
        chances = {f"given-{slug}": percent_shown(chance) for slug, chance in given.items()}
        return {"outcome": shown(row.get("outcome")), **chances}

    def row(self) -> Raw:
        names = [name for name in self.fields if name.startswith("given-")]
        given = {n.removeprefix("given-"): percent(self.typed(n)) for n in names}
        return filled(
            outcome=self.typed("outcome").strip().lower().replace(" ", "-"), given=filled(**given)
        )
