"""Whether the case's evidence tells its differential apart, by what simulated learners saw."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.labels import diagnosis_label
from casebank.domain.rehearsal.outcome import Outcome

CLEAR_LEAD = 2.0
"""How many times as probable as the next the truth must be to be told apart; our own choice."""
Verdict = Literal["apart", "hardly", "not"]


@dataclass(frozen=True)
class Supported:
    """A diagnosis: its prior, and what the evidence supports for the careful and for each kind.

    All are probabilities; those of a kind are means over its learners.
    """

    diagnosis: str
    label: str
    is_true: bool
    prior: float
    careful: float
    kinds: Mapping[str, float]


@dataclass(frozen=True)
class Differential:
    """Whether the evidence that the scheme asks for tells the truth apart.

    ``apart``: it makes every true diagnosis at least ``CLEAR_LEAD`` times as probable as any other;
    ``hardly``: more probable, but by less; ``not``: another is at least as probable. ``rival`` is
    the most probable of the others, empty where there are none. ``evidence_first`` counts by kind
    the learners for whom what they had seen put the truth first.
    """

    verdict: Verdict
    rival: str
    rival_probability: float
    rows: tuple[Supported, ...]
    evidence_first: Mapping[str, int]


def differential_of(
    case: CompiledCase, walks: Mapping[str, Sequence[Outcome]], careful: Outcome
) -> Differential:
    """Judge by the careful examiner's evidence; the rows say how far each kind came."""
    rival = _rival(case, careful.supported)
    rival_probability = careful.supported[rival] if rival else 0.0
    least_of_truth = min(careful.supported[name] for name in case.document.truth)
    return Differential(
        verdict=_verdict(least_of_truth, rival_probability),
        rival=diagnosis_label(case, rival) if rival else "",
        rival_probability=round(rival_probability, 4),
        rows=tuple(_row(case, walks, careful, place) for place in range(len(case.hypotheses))),
        evidence_first={
            kind: sum(is_truth_first(case, one.supported) for one in group)
            for kind, group in walks.items()
        },
    )


def is_truth_first(case: CompiledCase, belief: Mapping[str, float]) -> bool:
    """Whether a true diagnosis is more probable in this belief than every untrue one."""
    truth = case.document.truth
    best = max(belief.get(name, 0.0) for name in truth)
    return all(best > p for name, p in belief.items() if name not in truth)


def _verdict(truth: float, rival: float) -> Verdict:
    if truth <= rival:
        return "not"
    return "apart" if truth >= CLEAR_LEAD * rival else "hardly"


def _rival(case: CompiledCase, belief: Mapping[str, float]) -> str:
    others = [name for name in case.hypotheses if name not in case.document.truth]
    return max(others, key=lambda name: belief[name], default="")


def _row(
    case: CompiledCase, walks: Mapping[str, Sequence[Outcome]], careful: Outcome, place: int
) -> Supported:
    name = case.hypotheses[place]
    return Supported(
        diagnosis=name,
        label=diagnosis_label(case, name),
        is_true=name in case.document.truth,
        prior=round(float(case.by_diagnosis(case.prior)[place]), 4),
        careful=round(careful.supported[name], 4),
        kinds={
            kind: round(float(np.mean([one.supported[name] for one in group])), 4)
            for kind, group in walks.items()
        },
    )
