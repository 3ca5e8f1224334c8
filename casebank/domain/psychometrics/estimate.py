"""The shape of every statistic: a value with its interval, or a stated reason why there is none."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Status = Literal["ok", "undefined", "too_small", "not_estimable", "suppressed"]


@dataclass(frozen=True)
class Estimate:
    """A statistic, or why it is missing; never NaN, infinity or a pretended 0.

    Attributes
    ----------
    value, ci_low, ci_high : float or None
        The estimate and its 95 % interval. ``value`` is None exactly when ``status`` is not
        ``ok``; an interval may be missing from a value, and ``method`` then says so.
    n_used, k_used : int
        Persons and items (cases, raters) that the value rests on, after leaving out.
    method : str
        The formula and the interval, in words fit for a page.
    status : str
        ``ok``; ``undefined`` (no variance, one category); ``too_small`` (too few persons);
        ``not_estimable`` (the model has no answer for these data); ``suppressed`` (privacy).
    reason : str
        One sentence for every status but ``ok``; with ``ok`` it may carry a warning.
    """

    value: float | None
    ci_low: float | None
    ci_high: float | None
    n_used: int
    k_used: int
    method: str
    status: Status = "ok"
    reason: str = ""

    def __post_init__(self) -> None:
        numbers = [x for x in (self.value, self.ci_low, self.ci_high) if x is not None]
        if not all(math.isfinite(x) for x in numbers):
            raise ValueError(f"{self.method}: not a finite number; return a status instead.")
        if (self.value is None) == (self.status == "ok"):
            raise ValueError(f"{self.method}: a value needs status ok, and ok needs a value.")
        if self.status != "ok" and not self.reason:
            raise ValueError(f"{self.method}: status {self.status} needs a reason.")

    @property
    def is_ok(self) -> bool:
        """Whether there is a value."""
        return self.status == "ok"


def without_value(
    status: Status, reason: str, method: str, n_used: int, k_used: int = 1
) -> Estimate:
    """An estimate that has no value, with the reason."""
    return Estimate(None, None, None, n_used, k_used, method, status, reason)


def suppress(estimate: Estimate, smallest_group: int, floor: int = 10) -> Estimate:
    """The estimate, withheld if fewer than ``floor`` persons stand behind it (never below 5)."""
    if smallest_group >= max(floor, 5):
        return estimate
    reason = f"Fewer than {max(floor, 5)} persons stand behind this number, so it is not shown."
    return without_value("suppressed", reason, estimate.method, 0, estimate.k_used)


def hold_back(estimate: Estimate, at_least: int) -> Estimate:
    """The estimate, marked ``too_small`` if it rests on fewer than ``at_least`` persons."""
    if not estimate.is_ok or estimate.n_used >= at_least:
        return estimate
    reason = f"{estimate.n_used} persons are too few to show this; it needs {at_least}."
    return without_value("too_small", reason, estimate.method, estimate.n_used, estimate.k_used)
