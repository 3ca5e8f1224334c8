"""Rules of the findings as a list: ids, steps, stages, and that some of them are evidence."""

from __future__ import annotations

from collections.abc import Iterator

from casebank.domain.casefile.checks.steps import step_problems
from casebank.domain.casefile.problems import Problem, error, repeated, unknown
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.examination.model import Catalogue


def problems(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    """Everything wrong with the findings apart from their answers and evidence."""
    named = [(f"findings[{i}].id", item.id) for i, item in enumerate(document.findings)]
    yield from repeated(named, "finding")
    for place, finding in enumerate(document.findings):
        yield from step_problems(f"findings[{place}].step", finding.step, catalogue)
        yield from stage_problems(f"findings[{place}].stages", finding.stages, document)
    if not any(finding.evidence for finding in document.findings):
        yield error("findings", "none has evidence; give at least one finding its likelihoods")


def stage_problems(path: str, stages: tuple[str, ...], document: CaseDocument) -> Iterator[Problem]:
    """Errors of a list of stage ids: unknown, or named twice."""
    known = [stage.id for stage in document.stages]
    named = [(f"{path}[{number}]", stage) for number, stage in enumerate(stages)]
    yield from repeated(named, "stage")
    for place, stage in named:
        if stage not in known:
            yield unknown(place, "stage", stage, known)
