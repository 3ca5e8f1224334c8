"""Rules of the hypotheses: known diagnoses, priors that sum to 1, a truth among them."""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum

from casebank.domain.casefile.problems import Problem, error, repeated, unknown
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.examination.model import Catalogue

TOLERANCE = 1e-6


def problems(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    """Everything wrong with the hypotheses and the truth."""
    yield from _hypotheses(document, catalogue)
    yield from _truth(document)


def _hypotheses(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    named = [(f"hypotheses[{i}].diagnosis", h.diagnosis) for i, h in enumerate(document.hypotheses)]
    yield from repeated(named, "diagnosis")
    for path, slug in named:
        if slug not in catalogue.diagnoses:
            yield unknown(path, "diagnosis", slug, catalogue.diagnoses)
    total = fsum(item.prior for item in document.hypotheses)
    if abs(total - 1) > TOLERANCE:
        yield error("hypotheses", f"priors sum to {total:.6g}; change them so that they sum to 1")


def _truth(document: CaseDocument) -> Iterator[Problem]:
    hypotheses = [item.diagnosis for item in document.hypotheses]
    named = [(f"truth[{i}]", slug) for i, slug in enumerate(document.truth)]
    yield from repeated(named, "diagnosis")
    for path, slug in named:
        if slug not in hypotheses:
            yield unknown(path, "hypothesis", slug, hypotheses)
