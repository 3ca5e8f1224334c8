"""The findings that no simulated learner reached, each with its most likely reason."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Finding
from casebank.domain.examination.conditions import in_words
from casebank.domain.rehearsal.outcome import NOTICED, Outcome

Why = Literal["stage", "outside-scheme", "never-done", "technique"]


@dataclass(frozen=True)
class Unreached:
    """A finding nobody reached, its step, and why.

    ``stage``: nobody asked anything in the stages it holds in; ``outside-scheme``: the scheme does
    not ask for its step, so that learners come to it by chance only; ``never-done``: nobody did its
    step while it holds; ``technique``: it was done, but never so that it shows. ``stages`` are the
    labels of the stages it holds in, empty for all; ``shows_with`` the technique that shows it,
    empty where any does.
    """

    id: str
    label: str
    step: str
    why: Why
    stages: tuple[str, ...]
    shows_with: str


def unreached(case: CompiledCase, walks: Sequence[Outcome]) -> tuple[Unreached, ...]:
    """Every finding that nobody reached, in the order of the document."""
    reached = frozenset[str]().union(*(one.reached for one in walks))
    touched = frozenset[str]().union(*(one.touched for one in walks))
    stages = frozenset[str]().union(*(one.stages for one in walks))
    return tuple(
        Unreached(
            id=finding.id,
            label=finding.label,
            step=case.catalogue.steps[finding.step].label,
            why="technique" if finding.id in touched else _why(case, finding, stages),
            stages=tuple(case.stages[stage].label for stage in finding.stages),
            shows_with=_shows_with(case, finding),
        )
        for finding in case.document.findings
        if finding.id not in reached
    )


def _why(case: CompiledCase, finding: Finding, stages: frozenset[str]) -> Why:
    """Why nobody did its step while it holds."""
    if finding.stages and stages.isdisjoint(finding.stages):
        return "stage"
    scheme = case.document.scheme
    asked = {item.step for item in (*scheme.essential, *scheme.routine)}
    return "never-done" if finding.step in asked else "outside-scheme"


def _shows_with(case: CompiledCase, finding: Finding) -> str:
    """The technique of the first answer that shows it."""
    showing = next((one for one in finding.answers if one.strength in NOTICED), None)
    return in_words(showing.when, case.catalogue) if showing else ""
