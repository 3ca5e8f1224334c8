"""Rules of evidence: a source, likelihoods that sum to 1, outcomes that some answer gives."""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum

from casebank.domain.casefile.checks.hypotheses import TOLERANCE
from casebank.domain.casefile.checks.sources import NO_SOURCE, has_source
from casebank.domain.casefile.compile import (
    ABSENT,
    PRESENT,
    is_target,
    outcome_names,
    possibilities_of,
)
from casebank.domain.casefile.likelihoods import Accuracy, Evidence, OutcomeRow, Ratios
from casebank.domain.casefile.problems import Problem, error, repeated, unknown, warning
from casebank.domain.casefile.schema import CaseDocument, Finding
from casebank.domain.examination.model import Catalogue

_RULED_OUT = "rules the targets out for ever"


def problems(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    """Everything wrong with the evidence of every finding, and with the outcomes answers name."""
    del catalogue
    for place, finding in enumerate(document.findings):
        path = f"findings[{place}]"
        yield from _outcomes(path, finding)
        if finding.evidence:
            yield from _evidence(f"{path}.evidence", finding.evidence, document)


def _outcomes(path: str, finding: Finding) -> Iterator[Problem]:
    known = outcome_names(finding.evidence) if finding.evidence else ()
    for number, answer in enumerate(finding.answers):
        place = f"{path}.answers[{number}].outcome"
        if answer.outcome is not None and answer.outcome not in known:
            yield unknown(place, "outcome in the evidence called", answer.outcome, known)
        if finding.evidence and finding.evidence.pair:
            yield from _strength(place, answer.outcome, answer.strength)
    if known and not any(answer.outcome in known for answer in finding.answers):
        yield error(f"{path}.evidence", "no answer names any of its outcomes; name one, or drop it")


def _strength(path: str, outcome: str | None, strength: str) -> Iterator[Problem]:
    if outcome == PRESENT and strength == ABSENT:
        yield error(path, "the sign cannot count as present where its strength is absent")
    if outcome == ABSENT and strength == "clear":
        yield error(path, "the sign cannot count as absent where its strength is clear")


def _evidence(path: str, evidence: Evidence, document: CaseDocument) -> Iterator[Problem]:
    hypotheses = tuple(item.diagnosis for item in document.hypotheses)
    if not has_source(evidence.source):
        yield error(f"{path}.source", NO_SOURCE)
    if sum(map(bool, (evidence.table, evidence.ratios, evidence.accuracy))) != 1:
        yield error(path, "give either a table or ratios or accuracy, and only one of them")
    if evidence.ratios:
        yield from _pair(f"{path}.ratios", evidence.ratios, hypotheses)
        if evidence.ratios.negative == 0:
            yield warning(f"{path}.ratios.negative", f"0 {_RULED_OUT}; give a small number")
    if evidence.accuracy:
        yield from _pair(f"{path}.accuracy", evidence.accuracy, hypotheses)
        yield from _certain(f"{path}.accuracy", evidence.accuracy)
    if evidence.table:
        names = (*hypotheses, *(one.id for one in document.together))
        yield from _table(f"{path}.table", evidence.table, names)
    if evidence.pair and not evidence.assumed.strip():
        yield from _assumption(path, evidence.pair, document)


def _pair(path: str, pair: Ratios | Accuracy, hypotheses: tuple[str, ...]) -> Iterator[Problem]:
    named = [(f"{path}.targets[{i}]", target) for i, target in enumerate(pair.targets)]
    yield from repeated(named, "target")
    for place, target in named:
        if target not in hypotheses:
            yield unknown(place, "hypothesis", target, hypotheses)
    if set(hypotheses) <= set(pair.targets):
        yield error(f"{path}.targets", "name every hypothesis, so the sign tells nothing")


def _certain(path: str, accuracy: Accuracy) -> Iterator[Problem]:
    if accuracy.sensitivity == 1:
        yield warning(f"{path}.sensitivity", f"1: absence {_RULED_OUT}; give a number just below 1")
    if accuracy.specificity == 1:
        yield warning(
            f"{path}.specificity", "1: presence rules the others out for ever; give a little less"
        )


def _assumption(path: str, pair: Ratios | Accuracy, document: CaseDocument) -> Iterator[Problem]:
    """Two numbers for more than two possibilities take some of them to be alike."""
    hypotheses = tuple(item.diagnosis for item in document.hypotheses)
    sides = [is_target(pair, one) for one in possibilities_of(hypotheses, document.together)]
    if sides.count(True) > 1 or sides.count(False) > 1:
        yield warning(
            f"{path}.assumed",
            "two numbers stand for more than two diagnoses; say which were taken to be alike",
        )


def _table(
    path: str, table: tuple[OutcomeRow, ...], hypotheses: tuple[str, ...]
) -> Iterator[Problem]:
    rows = [(f"{path}[{i}].outcome", row.outcome) for i, row in enumerate(table)]
    yield from repeated(rows, "outcome")
    if len(table) < 2:
        yield error(path, "needs at least two outcomes")
    for place, row in enumerate(table):
        yield from _row(f"{path}[{place}].given", row, hypotheses)
    for name in hypotheses:
        yield from _column(path, table, name)
    if all(len({row.given.get(name) for name in hypotheses}) == 1 for row in table):
        yield warning(path, "is the same for every hypothesis, so the finding tells nothing")


def _row(path: str, row: OutcomeRow, hypotheses: tuple[str, ...]) -> Iterator[Problem]:
    for name in hypotheses:
        if name not in row.given:
            yield error(path, f"lacks the hypothesis {name!r}; give P({row.outcome} | {name})")
    for name in row.given:
        if name not in hypotheses:
            yield unknown(f"{path}.{name}", "hypothesis", name, hypotheses)
    if row.given and not any(row.given.values()):
        yield error(path, "is 0 for every hypothesis, so it cannot happen; remove the outcome")


def _column(path: str, table: tuple[OutcomeRow, ...], name: str) -> Iterator[Problem]:
    total = fsum(row.given.get(name, 0.0) for row in table)
    if all(name in row.given for row in table) and abs(total - 1) > TOLERANCE:
        yield error(path, f"outcomes given {name!r} sum to {total:.6g}; make them sum to 1")
    if any(row.given.get(name) == 1 for row in table):
        yield warning(path, f"an outcome is certain given {name!r}, so any other rules it out")
