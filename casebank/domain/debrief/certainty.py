"""How sure the final posterior is, where the document gives its ratios with intervals.

Each ratio with an interval is drawn from the log-normal that ``evidence.posterior_interval`` uses;
here the ratios may speak for different targets, so the whole differential is worked out per draw.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from casebank.domain.casefile.compile import PRESENT, CompiledCase
from casebank.domain.casefile.schema import Ratios
from casebank.domain.debrief.counted import Weighed
from casebank.domain.evidence.ratios import Z95, Ratio

DRAWS = 2000
SEED = 20260101


@dataclass(frozen=True)
class Certainty:
    """95 % intervals by hypothesis, or the findings that keep them from being known.

    ``without`` names counted findings whose numbers the document gives without an interval.
    """

    intervals: dict[str, tuple[float, float]]
    without: tuple[str, ...]

    @property
    def is_known(self) -> bool:
        """Whether there are intervals to show."""
        return bool(self.intervals)


def certainty_of(case: CompiledCase, seen: Iterable[Weighed], draws: int = DRAWS) -> Certainty:
    """Intervals around the posterior of these findings; the prior is taken as known."""
    counted = [one for one in seen if one.is_counted]
    ratios = {one.finding: ratio_of(case, one.finding, one.outcome) for one in counted}
    without = tuple(name for name, ratio in ratios.items() if ratio is None)
    if not counted or without:
        return Certainty({}, without)
    known = [(name, ratio) for name, ratio in ratios.items() if ratio is not None]
    return Certainty(_intervals(case, known, draws), ())


def ratio_of(case: CompiledCase, finding: str, outcome: str) -> Ratio | None:
    """The likelihood ratio of this outcome with its interval; None where it has none."""
    ratios = _ratios(case, finding)
    if ratios is None:
        return None
    is_present = outcome == PRESENT
    span = ratios.positive_interval if is_present else ratios.negative_interval
    value = ratios.positive if is_present else ratios.negative
    return Ratio(value, *span) if span and value > 0 else None


def _ratios(case: CompiledCase, finding: str) -> Ratios | None:
    evidence = next(f.evidence for f in case.document.findings if f.id == finding)
    return evidence.ratios if evidence else None


def _intervals(
    case: CompiledCase, known: list[tuple[str, Ratio]], draws: int
) -> dict[str, tuple[float, float]]:
    centres = np.array([math.log(ratio.value) for _, ratio in known])
    widths = np.array([math.log(r.ci_high / r.ci_low) / (2 * Z95) for _, r in known])
    noise = np.random.default_rng(SEED).standard_normal((draws, len(known)))
    logs = np.log(case.prior) + (centres + noise * widths) @ _targets(case, known)
    weights = np.exp(logs - logs.max(axis=1, keepdims=True))
    beliefs = weights / weights.sum(axis=1, keepdims=True)
    low, high = np.quantile(beliefs, [0.025, 0.975], axis=0)
    return {name: (float(low[i]), float(high[i])) for i, name in enumerate(case.hypotheses)}


def _targets(case: CompiledCase, known: list[tuple[str, Ratio]]) -> np.ndarray:
    """(findings, H): 1 where a finding's ratio speaks for the hypothesis."""
    aims = [set(ratios.targets) if (ratios := _ratios(case, name)) else set() for name, _ in known]
    return np.array([[float(name in aim) for name in case.hypotheses] for aim in aims])
