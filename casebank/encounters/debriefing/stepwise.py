"""Belief against evidence, step by step: how the posterior moved, and each differential stated."""

from __future__ import annotations

from collections.abc import Iterator

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.debrief.trajectory import Stated, Supported, Trajectory
from casebank.domain.marking.model import Record
from casebank.encounters.debriefing.beliefs import StepOfBelief, StepsOfBelief

LEAST_MOVED = 0.005
"""What moves no probability by half a per cent reads as no movement in whole per cents."""
BEFORE = "Before the examination"


def steps_shown(case: CompiledCase, record: Record, run: Trajectory) -> StepsOfBelief:
    """The start, every request that moved the evidence, and every differential, in order."""
    moved = list(_moved(run))
    rows = [_evidence(case, record, one) for one in moved]
    rows += [_stated(record, run, one) for one in run.stated]
    labels = case.catalogue.diagnoses
    return StepsOfBelief(
        diagnoses=tuple(labels[name].label for name in run.hypotheses),
        rows=tuple(sorted(rows, key=lambda row: row.seq)),
        still=len(run.supported) - len(moved),
    )


def _moved(run: Trajectory) -> Iterator[Supported]:
    """The start, and those that stand apart from the one kept before."""
    kept = run.supported[0]
    yield kept
    for one in run.supported[1:]:
        pairs = zip(one.posterior, kept.posterior, strict=True)
        if max(abs(now - then) for now, then in pairs) >= LEAST_MOVED:
            kept = one
            yield kept


def _evidence(case: CompiledCase, record: Record, one: Supported) -> StepOfBelief:
    line = next((line for line in record.requests() if line.seq == one.seq), None)
    label = case.catalogue.steps[line.payload["step"]].label if line else BEFORE
    return StepOfBelief(one.seq, one.minute, label, tuple(100 * p for p in one.posterior))


def _stated(record: Record, run: Trajectory, one: Stated) -> StepOfBelief:
    before = [step for step in run.supported if step.seq < one.seq][-1]
    is_last = any(line.seq == one.seq and line.kind == "conclusion" for line in record.lines)
    return StepOfBelief(
        seq=one.seq,
        minute=one.minute,
        label="Conclusion" if is_last else "Working differential",
        supported=tuple(100 * p for p in before.posterior),
        stated=tuple(100 * one.probabilities.get(name, 0.0) for name in run.hypotheses),
        others=100 * sum(p for name, p in one.probabilities.items() if name not in run.hypotheses),
    )
