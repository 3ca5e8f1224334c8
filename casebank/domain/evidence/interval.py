"""How sure a posterior can be when the likelihood ratios behind it are themselves uncertain."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import expit, logit

from casebank.domain.evidence.ratios import Z95, Ratio


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
    centre = logit(prior) + sum(math.log(_checked(r).value) for r in rows_with_intervals)
    widths = [math.log(r.ci_high / r.ci_low) / (2 * Z95) for r in rows_with_intervals]
    noise = np.random.default_rng(seed).standard_normal((draws, len(widths))) @ np.asarray(widths)
    low, high = np.quantile(expit(centre + noise), [0.025, 0.975])
    return PosteriorInterval(float(expit(centre)), float(low), float(high), draws)


def _checked(ratio: Ratio) -> Ratio:
    if not 0 < ratio.ci_low <= ratio.value <= ratio.ci_high < math.inf:
        message = f"ratio {ratio.value:g} ({ratio.ci_low:g}-{ratio.ci_high:g}) needs "
        raise ValueError(message + "0 < lower <= value <= upper: add half a person to empty cells.")
    return ratio
