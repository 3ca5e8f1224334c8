"""Rules of the hypotheses: known diagnoses, priors that sum to 1, a truth among them.

Also of what may be together, and of whom the priors are.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum

from casebank.domain.casefile.checks.sources import NO_SOURCE, has_source
from casebank.domain.casefile.problems import Problem, error, repeated, unknown, warning
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.examination.model import Catalogue

TOLERANCE = 1e-6


def problems(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    """Everything wrong with the hypotheses, what is together, the truth and the presentation."""
    yield from _hypotheses(document, catalogue)
    yield from _together(document)
    yield from _truth(document)
    yield from _presentation(document)


def _hypotheses(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    named = [(f"hypotheses[{i}].diagnosis", h.diagnosis) for i, h in enumerate(document.hypotheses)]
    yield from repeated(named, "diagnosis")
    for path, slug in named:
        if slug not in catalogue.diagnoses:
            yield unknown(path, "diagnosis", slug, catalogue.diagnoses)
    total = fsum(document.priors)
    if abs(total - 1) > TOLERANCE:
        with_those = ", with those together," if document.together else ""
        words = f"priors{with_those} sum to {total:.6g}; change them so that they sum to 1"
        yield error("hypotheses", words)


def _together(document: CaseDocument) -> Iterator[Problem]:
    hypotheses = [item.diagnosis for item in document.hypotheses]
    named = [(f"together[{i}].id", one.id) for i, one in enumerate(document.together)]
    yield from repeated(named, "name")
    for path, name in named:
        if name in hypotheses:
            yield error(path, f"{name!r} is a diagnosis of this case; choose another name")
    stated: set[frozenset[str]] = set()
    for place, one in enumerate(document.together):
        members = [(f"together[{place}].diagnoses[{i}]", d) for i, d in enumerate(one.diagnoses)]
        yield from repeated(members, "diagnosis")
        for path, slug in members:
            if slug not in hypotheses:
                yield unknown(path, "hypothesis", slug, hypotheses)
        if frozenset(one.diagnoses) in stated:
            yield error(f"together[{place}].diagnoses", "stand together already; keep one of them")
        stated.add(frozenset(one.diagnoses))


def _truth(document: CaseDocument) -> Iterator[Problem]:
    hypotheses = [item.diagnosis for item in document.hypotheses]
    named = [(f"truth[{i}]", slug) for i, slug in enumerate(document.truth)]
    yield from repeated(named, "diagnosis")
    for path, slug in named:
        if slug not in hypotheses:
            yield unknown(path, "hypothesis", slug, hypotheses)
    at_once = [frozenset(one.diagnoses) for one in document.together]
    if len(document.truth) > 1 and frozenset(document.truth) not in at_once:
        yield warning(
            "truth",
            "several are true at once, yet the evidence weighs them against each other; "
            "state them in together, with a prior",
        )


def _presentation(document: CaseDocument) -> Iterator[Problem]:
    known = document.presentation
    if known is None:
        yield warning("presentation", "say whom the priors are of: complaint, setting and source")
    elif not has_source(known.source):
        yield error("presentation.source", NO_SOURCE)
