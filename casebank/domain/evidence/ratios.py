"""Likelihood ratios: from counts, and to the sensitivity and specificity they stand for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from casebank.domain.evidence.arrays import Floats

Z95 = 1.959963984540054


@dataclass(frozen=True)
class Ratio:
    """A likelihood ratio with its 95 % interval; ``method`` says how the interval was made."""

    value: float
    ci_low: float
    ci_high: float
    method: str = "as published"


def likelihood_ratio_from_counts(a: int, m: int, b: int, k: int) -> Ratio:
    """Likelihood ratio (a/m)/(b/k) of a finding, with its interval by the log method.

    exp(ln LR +- 1.96 sqrt(1/a - 1/m + 1/b - 1/k)) (Katz et al., Biometrics 1978; from memory).
    Where that has no width (no one, or everyone, in both groups) or no value (an empty cell),
    half a person is added to every cell and ``method`` says so: always to the interval, and to
    the value only where it would be infinite.

    Parameters
    ----------
    a, m : int
        Persons with the finding among the ``m`` who have the target condition.
    b, k : int
        Persons with the finding among the ``k`` who have not.

    Raises
    ------
    ValueError
        If a group is empty, a count exceeds its group, or nobody has the finding.
    """
    if not (0 <= a <= m and 0 <= b <= k and m > 0 and k > 0):
        raise ValueError("give counts as a of m with, b of k without the target: 0 <= a <= m.")
    if a == 0 and b == 0:
        raise ValueError("nobody shows this finding: count another outcome of the step.")
    if a == 0 or b == 0 or (a == m and b == k):
        value, low, high = _log_interval(a + 0.5, m + 1, b + 0.5, k + 1)
        counted = (a / m) / (b / k) if b else value
        return Ratio(counted, min(low, counted), high, "log method, half a person a cell added")
    return Ratio(*_log_interval(a, m, b, k), "log method")


def sensitivity_specificity(lr_positive: float, lr_negative: float) -> tuple[float, float]:
    """Sensitivity and specificity of a sign that is present or absent, from its two ratios.

    spec = (LR+ - 1)/(LR+ - LR-), sens = LR+ (1 - spec); both lie in [0, 1] whenever
    LR+ > 1 > LR- >= 0, and a pair outside that contradicts itself.

    Raises
    ------
    ValueError
        If the positive ratio is not above 1, or the negative one not in [0, 1).
    """
    if not (math.isfinite(lr_positive) and lr_positive > 1):
        message = f"LR+ is {lr_positive:g}: it must be above 1 and finite; if the sign speaks "
        raise ValueError(message + "against the targets, name the other hypotheses as targets.")
    if not 0 <= lr_negative < 1:
        message = f"LR- is {lr_negative:g} beside LR+ {lr_positive:g}: when presence speaks for "
        raise ValueError(message + "a target, absence must speak against it, so give 0 <= LR- < 1.")
    specificity = (lr_positive - 1) / (lr_positive - lr_negative)
    # LR+ (1 - spec), written without the subtraction that would lose digits of a large LR+.
    sensitivity = lr_positive * (1 - lr_negative) / (lr_positive - lr_negative)
    return min(sensitivity, 1.0), specificity


def ratio_rows(is_target: Sequence[bool], lr_positive: float, lr_negative: float) -> Floats:
    """P(outcome | hypothesis) for the outcomes present (row 0) and absent (row 1), shape (2, H).

    ``is_target`` (H,) marks the hypotheses that the ratios speak for; it needs one of each kind.
    """
    targets = np.asarray(is_target, dtype=bool)
    if targets.all() or not targets.any():
        raise ValueError("ratios compare targets with the others: mark some hypotheses, not all.")
    sensitivity, specificity = sensitivity_specificity(lr_positive, lr_negative)
    present = np.where(targets, sensitivity, 1 - specificity)
    return np.stack([present, 1 - present])


def _log_interval(a: float, m: float, b: float, k: float) -> tuple[float, float, float]:
    value = (a / m) / (b / k)
    spread = math.exp(Z95 * math.sqrt(1 / a - 1 / m + 1 / b - 1 / k))
    return value, value / spread, value * spread
