"""Marks for judgement: reasoning, economy and safety."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.evidence import proper_score_against
from casebank.domain.marking.model import DomainMark, Point, Record

FLAG_COST = 25.0
CAP_WHEN_CONTRAINDICATED = 40.0


def reasoning(case: CompiledCase, record: Record) -> DomainMark:
    """The final differential against the truth and against what the same evidence supports."""
    weight = case.document.scheme.weights.get("reasoning", 0.0)
    last = record.last("conclusion") or record.last("differential")
    if last is None:
        return DomainMark("reasoning", 0.0, weight, (), "No differential was stated.")
    stated, supported = _over_hypotheses(
        case, last.payload["probabilities"], last.payload["supported"]
    )
    truth = [case.hypotheses.index(name) for name in case.document.truth]
    score = proper_score_against(stated, supported, truth)
    words = (
        "The probabilities you stated, scored against the patient's diagnosis and against what "
        "the evidence you had seen supports (a proper scoring rule)."
    )
    return DomainMark("reasoning", score, weight, (Point(words, score, 100.0, (last.seq,)),))


def _over_hypotheses(
    case: CompiledCase, stated: Mapping[str, float], supported: Mapping[str, float]
) -> tuple[np.ndarray, np.ndarray]:
    """Both over the case's hypotheses and, last, anything else the student thought of."""
    own = [stated.get(name, 0.0) for name in case.hypotheses]
    mine = np.array([*own, max(0.0, 1 - sum(own))])
    reference = np.array([*(supported[name] for name in case.hypotheses), 0.0])
    return mine / mine.sum(), reference / reference.sum()


def economy(case: CompiledCase, record: Record) -> DomainMark:
    """100 at no surcharge, 0 at the case's budget or above, straight between."""
    scheme = case.document.scheme
    spent = record.state.surcharge
    score = 100 * max(0.0, 1 - spent / scheme.surcharge_budget)
    points = tuple(
        Point(
            words=f"{case.catalogue.steps[line.payload['step']].label}: "
            f"{line.payload['charge']['reason']}. {line.payload['charge']['words']}",
            earned=-line.payload["charge"]["surcharge"],
            possible=0.0,
            entries=(line.seq,),
        )
        for line in record.requests()
        if line.payload["charge"]["surcharge"] > 0
    )
    note = f"Surcharge {spent:.1f} of a budget of {scheme.surcharge_budget:g}."
    return DomainMark("economy", score, scheme.weights.get("economy", 0.0), points, note)


def safety(case: CompiledCase, record: Record) -> DomainMark:
    """100 without a flag; each different flag costs 25, down to 0."""
    first: dict[str, int] = {}
    for line in record.requests():
        for flag in line.payload["flags"]:
            first.setdefault(flag, line.seq)
    points = tuple(Point(flag, -FLAG_COST, 0.0, (seq,)) for flag, seq in first.items())
    score = max(0.0, 100.0 - FLAG_COST * len(first))
    note = "" if first else "No safety flag was raised."
    weight = case.document.scheme.weights.get("safety", 0.0)
    return DomainMark("safety", score, weight, points, note)


def cap(case: CompiledCase, record: Record) -> float | None:
    """The most the total can be after a step that was contraindicated; None without one."""
    forbidden = {item.why for item in case.document.scheme.unsafe}
    raised = {flag for line in record.requests() for flag in line.payload["flags"]}
    return CAP_WHEN_CONTRAINDICATED if raised & forbidden else None
