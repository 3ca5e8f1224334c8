"""How large each part of a case may be, so that checks, pages and marking stay quick."""

from __future__ import annotations

from collections.abc import Iterator, Sized

from casebank.domain.casefile.problems import Problem, error
from casebank.domain.casefile.schema import CaseDocument

MAX_STAGES = 20
MAX_MOVES = 20
MAX_HYPOTHESES = 40
MAX_TOGETHER = 20
MAX_FINDINGS = 200
MAX_ANSWERS = 20
MAX_OUTCOMES = 20
MAX_WANTED = 100
MAX_ORDER = 300
MAX_TEACHING = 50


def problems(document: CaseDocument) -> Iterator[Problem]:
    """An error for every part that is too large."""
    for path, part, most in _parts(document):
        if len(part) > most:
            yield error(path, f"has {len(part)} entries; at most {most} are allowed")


def _parts(document: CaseDocument) -> Iterator[tuple[str, Sized, int]]:
    scheme = document.scheme
    yield "stages", document.stages, MAX_STAGES
    yield "hypotheses", document.hypotheses, MAX_HYPOTHESES
    yield "together", document.together, MAX_TOGETHER
    yield "findings", document.findings, MAX_FINDINGS
    yield "scheme.essential", scheme.essential, MAX_WANTED
    yield "scheme.routine", scheme.routine, MAX_WANTED
    yield "scheme.unsafe", scheme.unsafe, MAX_WANTED
    yield "scheme.order", scheme.order, MAX_ORDER
    yield "teaching.points", document.teaching.points, MAX_TEACHING
    yield "teaching.sources", document.teaching.sources, MAX_TEACHING
    yield "cautions", document.cautions, MAX_TEACHING
    for place, stage in enumerate(document.stages):
        yield f"stages[{place}].moves", stage.moves, MAX_MOVES
    for place, finding in enumerate(document.findings):
        yield f"findings[{place}].answers", finding.answers, MAX_ANSWERS
        if finding.evidence:
            yield f"findings[{place}].evidence.table", finding.evidence.table, MAX_OUTCOMES
