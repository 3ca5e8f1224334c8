"""How sure the final posterior is, where the document gives its numbers with intervals.

Each ratio with an interval is drawn from the log-normal that ``evidence.posterior_interval`` uses;
here they may speak for different targets, so the whole differential is worked out per draw. What
has no interval of its own is taken as exact, and named.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from casebank.domain.casefile.compile import PRESENT, CompiledCase, Floats, is_target
from casebank.domain.casefile.likelihoods import Accuracy, Ratios
from casebank.domain.debrief.counted import Weighed
from casebank.domain.evidence.interval import Portion, log_ratio_draws, log_ratio_draws_of_pair
from casebank.domain.evidence.ratios import Ratio

DRAWS = 2000
SEED = 20260101


@dataclass(frozen=True)
class Certainty:
    """95 % intervals by hypothesis; none where no finding that counted has an interval.

    ``without`` names counted findings whose numbers the document gives without an interval: they
    were taken as exact, so where it names any the true interval is wider.
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
    known = [one for one in counted if has_interval(case, one.finding, one.outcome)]
    exact = [one for one in counted if one not in known]
    without = tuple(one.finding for one in exact)
    if not known:
        return Certainty({}, without)
    with np.errstate(divide="ignore"):
        logs = np.log(case.prior) + sum(np.log(case.rows[o.finding, o.outcome]) for o in exact)
    return Certainty(_intervals(case, logs + _log_factors(case, known, draws)), without)


def has_interval(case: CompiledCase, finding: str, outcome: str) -> bool:
    """Whether the document says how sure the numbers behind this outcome are."""
    pair = _pair(case, finding)
    if isinstance(pair, Accuracy):
        return pair.sensitivity_interval is not None
    return ratio_of(case, finding, outcome) is not None


def ratio_of(case: CompiledCase, finding: str, outcome: str) -> Ratio | None:
    """The likelihood ratio of this outcome with its interval; None where it has none."""
    pair = _pair(case, finding)
    if not isinstance(pair, Ratios):
        return None
    is_present = outcome == PRESENT
    span = pair.positive_interval if is_present else pair.negative_interval
    value = pair.positive if is_present else pair.negative
    return Ratio(value, *span) if span and value > 0 else None


def _pair(case: CompiledCase, finding: str) -> Ratios | Accuracy | None:
    evidence = next(f.evidence for f in case.document.findings if f.id == finding)
    return evidence.pair if evidence else None


def _log_factors(case: CompiledCase, known: list[Weighed], draws: int) -> Floats:
    """(draws, P): by how much the drawn numbers of these findings speak for each possibility."""
    rng = np.random.default_rng(SEED)
    noise = np.stack([rng.standard_normal((draws, len(known))) for _ in range(2)], axis=-1)
    logs = [_log_ratio(case, one, noise[:, place]) for place, one in enumerate(known)]
    return np.stack(logs, axis=1) @ np.stack([_speaks_for(case, one.finding) for one in known])


def _log_ratio(case: CompiledCase, one: Weighed, noise: Floats) -> Floats:
    """(draws,) of a finding that has an interval; ``noise`` is (draws, 2)."""
    pair = _pair(case, one.finding)
    ratio = ratio_of(case, one.finding, one.outcome)
    if ratio is not None:
        return log_ratio_draws(ratio, noise[:, 0])
    if not (isinstance(pair, Accuracy) and pair.sensitivity_interval and pair.specificity_interval):
        raise ValueError(f"{one.finding} has no interval to draw from: take it as exact.")
    sensitivity = Portion(pair.sensitivity, *pair.sensitivity_interval)
    specificity = Portion(pair.specificity, *pair.specificity_interval)
    return log_ratio_draws_of_pair(sensitivity, specificity, one.outcome == PRESENT, noise)


def _speaks_for(case: CompiledCase, finding: str) -> Floats:
    """(P,): 1 where a finding's numbers speak for the possibility."""
    pair = _pair(case, finding)
    return np.array(
        [float(pair is not None and is_target(pair, one)) for one in case.possibilities]
    )


def _intervals(case: CompiledCase, logs: Floats) -> dict[str, tuple[float, float]]:
    weights = np.exp(logs - logs.max(axis=1, keepdims=True))
    beliefs = case.by_diagnosis(weights / weights.sum(axis=1, keepdims=True))
    low, high = np.quantile(beliefs, [0.025, 0.975], axis=0)
    return {name: (float(low[i]), float(high[i])) for i, name in enumerate(case.hypotheses)}
