"""The case check: reads a case document and lists everything wrong with it, place by place.

Owns the order of the checks. The rules stand in ``checks``, a file for each part of a case.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from casebank.domain.casefile.checks import (
    answers,
    evidence,
    findings,
    hypotheses,
    leaks,
    limits,
    overlaps,
    scheme,
    shape,
    signs,
    stages,
)
from casebank.domain.casefile.problems import CaseReview, Problem
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.examination.model import Catalogue

__all__ = ["CaseReview", "Problem", "check_case"]

Check = Callable[[CaseDocument, Catalogue], Iterator[Problem]]

CHECKS: tuple[Check, ...] = (
    hypotheses.problems,
    stages.problems,
    findings.problems,
    answers.problems,
    signs.problems,
    evidence.problems,
    overlaps.problems,
    scheme.problems,
    leaks.problems,
)


def check_case(raw: dict[str, Any] | str, catalogue: Catalogue) -> CaseReview:
    """Every problem of a case document, given as JSON text or as the object it holds.

    A document of the wrong shape is not looked at further; one beyond the size limits neither,
    because some checks enumerate combinations.
    """
    document, found = shape.read(raw)
    if document is None:
        return CaseReview(None, tuple(found))
    beyond = tuple(limits.problems(document))
    if beyond:
        return CaseReview(document, beyond)
    return CaseReview(document, tuple(_all(document, catalogue)))


def _all(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    for check in CHECKS:
        yield from check(document, catalogue)
