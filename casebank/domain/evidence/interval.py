"""How sure a posterior can be when the likelihood ratios behind it are themselves uncertain."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import expit, log_expit, logit

from casebank.domain.evidence.arrays import Floats
from casebank.domain.evidence.ratios import Z95, Ratio


@dataclass(frozen=True)
class Portion:
    """A sensitivity or a specificity with its 95 % interval; all three between 0 and 1."""

    value: float
    ci_low: float
    ci_high: float


@dataclass(frozen=True)
class PosteriorInterval:
    """Post-test probability of the target with a 95 % interval over ``draws`` draws."""

    value: float
    ci_low: float
    ci_high: float
    draws: int


def posterior_interval(
    prior: float, rows_with_intervals: Sequence[Ratio], seed: int, draws: int = 2000
) -> PosteriorInterval:
    """Seeded Monte Carlo interval around the probability of a target against the rest.

    Each ratio is drawn from the log-normal that has its value as median and the width of its
    95 % interval; ratios are independent, the prior is taken as known. The value itself is not
    drawn: post odds = prior odds x product of the ratios. Equal seeds give equal intervals.

    Parameters
    ----------
    prior : float
        Probability of the target before the findings, between 0 and 1, both excluded.
    rows_with_intervals : sequence of Ratio
        One a finding; value and limits above 0, in order.
    seed : int
        Seed of the draws.
    draws : int
        At least 100.

    Raises
    ------
    ValueError
        If the prior, a ratio or the number of draws is out of range.
    """
    if not 0 < prior < 1:
        raise ValueError(f"prior is {prior:g}: give a probability above 0 and below 1.")
    if draws < 100:
        raise ValueError(f"{draws} draws are too few for a 95 % interval: use at least 100.")
    noise = np.random.default_rng(seed).standard_normal((draws, len(rows_with_intervals)))
    logs = [log_ratio_draws(r, noise[:, i]) for i, r in enumerate(rows_with_intervals)]
    centre = float(logit(prior)) + sum(math.log(r.value) for r in rows_with_intervals)
    low, high = np.quantile(expit(logit(prior) + sum(logs, np.zeros(draws))), [0.025, 0.975])
    return PosteriorInterval(float(expit(centre)), float(low), float(high), draws)


def log_ratio_draws(ratio: Ratio, noise: Floats) -> Floats:
    """Logarithms of a ratio, drawn with standard normal ``noise`` (draws,): log-normal."""
    width = math.log(_checked(ratio).ci_high / ratio.ci_low) / (2 * Z95)
    return np.asarray(math.log(ratio.value) + width * noise, dtype=np.float64)


def log_ratio_draws_of_pair(
    sensitivity: Portion, specificity: Portion, is_present: bool, noise: Floats
) -> Floats:
    """Logarithms of the ratio that a pair stands for, with standard normal ``noise`` (draws, 2).

    Each of the two is drawn from the logit-normal that has its value as median and the width of
    its interval, apart from the other. Present: sens/(1 - spec); absent: (1 - sens)/spec.
    """
    sens, spec = _logits(sensitivity, noise[:, 0]), _logits(specificity, noise[:, 1])
    # log expit(x) is the log of a share, log expit(-x) that of the rest.
    if is_present:
        return np.asarray(log_expit(sens) - log_expit(-spec), dtype=np.float64)
    return np.asarray(log_expit(-sens) - log_expit(spec), dtype=np.float64)


def _logits(portion: Portion, noise: Floats) -> Floats:
    if not 0 < portion.ci_low <= portion.value <= portion.ci_high < 1:
        span = f"{portion.value:g} ({portion.ci_low:g}-{portion.ci_high:g})"
        raise ValueError(f"share {span} needs 0 < lower <= value <= upper < 1.")
    width = (logit(portion.ci_high) - logit(portion.ci_low)) / (2 * Z95)
    return np.asarray(logit(portion.value) + width * noise, dtype=np.float64)


def _checked(ratio: Ratio) -> Ratio:
    if not 0 < ratio.ci_low <= ratio.value <= ratio.ci_high < math.inf:
        message = f"ratio {ratio.value:g} ({ratio.ci_low:g}-{ratio.ci_high:g}) needs "
        raise ValueError(message + "0 < lower <= value <= upper: add half a person to empty cells.")
    return ratio
