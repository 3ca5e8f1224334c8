"""The evidence of a finding: a pair of ratios or of accuracies, or a table of outcomes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

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
    span,
    span_shown,
    words,
)
from casebank.domain.examination.model import Catalogue

RATIOS = ("positive", "negative")
ACCURACIES = ("sensitivity", "specificity")


def hypothesis_choices(document: Raw, catalogue: Catalogue) -> Choices:
    """The document's hypotheses as choices."""
    slugs = [shown(row.get("diagnosis")) for row in rows(document, "hypotheses")]
    return [(slug, diagnosis_label(slug, catalogue)) for slug in slugs if slug]


def picture_choices(document: Raw, catalogue: Catalogue) -> Choices:
    """The hypotheses, then what the case states together."""
    together = [
        (shown(row.get("id")), " with ".join(
            diagnosis_label(slug, catalogue) for slug in words(row, "diagnoses")
        ))
        for row in rows(document, "together")
    ]  # fmt: skip
    return [*hypothesis_choices(document, catalogue), *(one for one in together if one[0])]


class EvidenceForm(Page):
    """Source, group and what was assumed; targets with their ratios or accuracies."""

    source = Typed(
        "Source", optional=True,
        help_text="Author, journal and year; or the word “illustrative” where you made it up.",
    )  # fmt: skip
    group = Typed(
        "Evidence group", optional=True,
        help_text="Signs that are not independent share a group name; only the strongest counts.",
    )  # fmt: skip
    assumed = Typed(
        "What was assumed", optional=True, tall=2,
        help_text="For instance which diagnoses were taken to be alike. Shown in the debrief.",
    )  # fmt: skip
    targets = Ticks("The sign speaks for")
    positive = Figure(
        "LR+", optional=True, help_text="Above 1: how much more likely when the sign is present."
    )
    positive_interval = Typed(
        "95 % interval of LR+", optional=True, help_text="As published, like 4.0 to 11.5."
    )
    negative = Figure(
        "LR−", optional=True, help_text="0 to below 1: how much less likely when it is absent."
    )
    negative_interval = Typed("95 % interval of LR−", optional=True)
    sensitivity = Figure(
        "Sensitivity", optional=True, help_text="Percent of those it speaks for who show it."
    )
    sensitivity_interval = Typed(
        "95 % interval of the sensitivity", optional=True, help_text="In percent, like 53 to 81."
    )
    specificity = Figure(
        "Specificity", optional=True, help_text="Percent of the others who do not show it."
    )
    specificity_interval = Typed("95 % interval of the specificity", optional=True)

    def __init__(self, evidence: Raw, document: Raw, catalogue: Catalogue, data: Data) -> None:
        self.evidence = evidence
        self.ratios, self.accuracy = part(evidence, "ratios"), part(evidence, "accuracy")
        super().__init__(document, catalogue, data)
        choices = hypothesis_choices(document, catalogue)
        offer(self.fields["targets"], choices, self._targets())

    def _targets(self) -> list[str]:
        return words(self.ratios, "targets") or words(self.accuracy, "targets")

    def shown(self) -> Raw:
        return {
            **{name: shown(self.evidence.get(name)) for name in ("source", "group", "assumed")},
            "targets": self._targets(),
            **{name: shown(self.ratios.get(name)) for name in RATIOS},
            **{f"{n}_interval": span_shown(self.ratios.get(f"{n}_interval")) for n in RATIOS},
            **{name: percent_shown(self.accuracy.get(name)) for name in ACCURACIES},
            **{
                f"{n}_interval": span_shown(self.accuracy.get(f"{n}_interval"), percent_shown)
                for n in ACCURACIES
            },
        }

    def given(self) -> Raw:
        """The evidence without its table; an empty object where nothing was typed."""
        typed = self.cleaned_data
        ratios = self._numbers(RATIOS, number)
        accuracy = self._numbers(ACCURACIES, percent)
        # Targets by themselves go where they stood, or else to the ratios.
        is_of_ratios = bool(ratios) or not (accuracy or self.accuracy)
        return filled(
            source=typed["source"],
            group=typed["group"].lower().replace(" ", "-"),
            assumed=typed["assumed"].strip(),
            ratios=filled(targets=self._kept_targets() if is_of_ratios else [], **ratios),
            accuracy=filled(
                targets=self._kept_targets() if accuracy or not is_of_ratios else [], **accuracy
            ),
        )

    def _numbers(self, names: tuple[str, str], read: Callable[[str], Any]) -> Raw:
        typed = self.cleaned_data
        return filled(
            **{name: read(typed[name]) for name in names},
            **{f"{name}_interval": span(typed[f"{name}_interval"], read) for name in names},
        )

    def _kept_targets(self) -> list[str]:
        before, targets = self._targets(), list(self.cleaned_data["targets"])
        return before if sorted(before) == sorted(targets) else targets


class OutcomeRow(Row):
    """One outcome with its probability, in percent, given each hypothesis."""

    outcome = Typed("Outcome", optional=True)

    def prepare(self) -> None:
        choices = picture_choices(self.document, self.catalogue)
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
