"""Reads what a student sends: percentages and the conclusion."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django import forms
from django.http import QueryDict

from casebank.domain.encounter.model import EncounterError
from casebank.domain.examination.diagnoses import find_diagnosis
from casebank.domain.examination.model import Catalogue

PREFIX = "p-"


class ConclusionForm(forms.Form):
    """The summary and plan of a conclusion."""

    summary = forms.CharField(
        label="Summary",
        help_text="What you found, in two or three sentences.",
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    plan = forms.CharField(
        label="Plan",
        help_text="What you would do next, in order.",
        max_length=4000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
    )


@dataclass(frozen=True)
class HypothesisBar:
    """One bar of the working differential."""

    slug: str
    label: str
    percent: int


def bars_of(probabilities: Mapping[str, float], catalogue: Catalogue) -> list[HypothesisBar]:
    """The bars, the likeliest first."""
    return [
        HypothesisBar(slug, catalogue.diagnoses[slug].label, round(100 * p))
        for slug, p in sorted(probabilities.items(), key=lambda item: (-item[1], item[0]))
    ]


def probabilities_from(data: QueryDict, catalogue: Catalogue) -> dict[str, float]:
    """The probabilities a differential form states; EncounterError in words if it cannot be read.

    Fields are ``p-<diagnosis>`` in whole percent and ``add``, a diagnosis in words.
    """
    stated = {
        name.removeprefix(PREFIX): _share(str(value))
        for name, value in data.items()
        if name.startswith(PREFIX)
    }
    added = str(data.get("add", "")).strip()
    if added:
        found = find_diagnosis(added, catalogue)
        if found is None:
            raise EncounterError(
                f"“{added[:60]}” is not in the list of diagnoses. Pick one of those suggested."
            )
        stated.setdefault(found.slug, 0.0)
    return stated


def _share(text: str) -> float:
    try:
        return float(text or 0) / 100
    except ValueError as error:
        raise EncounterError("Give each probability as a number from 0 to 100.") from error
