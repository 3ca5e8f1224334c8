"""Linear scales and round tick values; shared by all charts."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Scale:
    """Maps values ``low``..``high`` to lengths ``start``..``end`` (either may run backwards)."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """The place of a value, to two decimals; values outside go to the nearer end."""
        inside = min(max(value, self.low), self.high)
        share = (inside - self.low) / (self.high - self.low)
        return round(self.start + share * (self.end - self.start), 2)


@dataclass(frozen=True)
class Tick:
    """A value on an axis: its place and its text."""

    place: float
    text: str


def round_step(span: float, most: int = 6) -> float:
    """The smallest of 1, 2, 5 x 10^k that cuts ``span`` into at most ``most`` parts."""
    if span <= 0:
        raise ValueError("A scale needs a span above zero: give a high end above the low end.")
    rough = span / most
    power = 10.0 ** math.floor(math.log10(rough))
    return next(m * power for m in (1, 2, 5, 10) if m * power >= rough * (1 - 1e-9))


def round_bounds(values: Iterable[float], most: int = 6) -> tuple[float, float]:
    """Round ends around the values; (0, 1) where there are none, widened where all are equal."""
    known = [value for value in values if math.isfinite(value)]
    if not known:
        return 0.0, 1.0
    low, high = min(known), max(known)
    if low == high:
        low, high = low - 0.5, high + 0.5
    step = round_step(high - low, most)
    return math.floor(low / step) * step, math.ceil(high / step) * step


def ticks(scale: Scale, most: int = 6) -> tuple[Tick, ...]:
    """Ticks at round values inside the scale, their text without needless decimals."""
    step = round_step(scale.high - scale.low, most)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    first = math.ceil(scale.low / step - 1e-9)
    last = math.floor(scale.high / step + 1e-9)
    return tuple(
        Tick(scale.at(index * step), written(index * step, decimals))
        for index in range(first, last + 1)
    )


def written(value: float, decimals: int) -> str:
    """The number with a true minus sign and no minus before a zero."""
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0 else text.replace("-", "−")
