"""Horizontal bars with interval whiskers, one row for each thing compared.

The rows are set in HTML and only the bar is drawn, so that the words stay readable on a phone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casebank.core.charts.scale import Scale, Tick, round_bounds, ticks, written

WIDTH = 100.0


@dataclass(frozen=True)
class Bar:
    """A value with its interval (both ends or neither); ``note`` says more, e.g. ``n = 41``."""

    label: str
    value: float
    low: float | None = None
    high: float | None = None
    note: str = ""
    is_flagged: bool = False


@dataclass(frozen=True)
class BarRow:
    """A bar laid out: lengths in percent of the width, texts as shown."""

    label: str
    text: str
    interval: str
    note: str
    is_flagged: bool
    start: float
    length: float
    end: float
    whisker_from: float | None
    whisker_to: float | None


@dataclass(frozen=True)
class BarChart:
    """A laid-out bar chart; ``zero`` is where the bars begin."""

    slug: str
    title: str
    measure: str
    summary: str
    rows: tuple[BarRow, ...]
    ticks: tuple[Tick, ...]
    zero: float

    @property
    def has_intervals(self) -> bool:
        """Whether any row shows an interval."""
        return any(row.interval for row in self.rows)


def bar_chart(
    bars: Sequence[Bar],
    *,
    slug: str,
    title: str,
    measure: str,
    bounds: tuple[float, float] | None = None,
    decimals: int = 2,
) -> BarChart:
    """Lay out the bars in the order given; without ``bounds`` the axis spans zero and all ends."""
    low, high = bounds or round_bounds([0.0, *_ends(bars)])
    scale = Scale(low, high, 0.0, WIDTH)
    zero = scale.at(0.0)
    rows = tuple(_row(bar, scale, zero, decimals) for bar in bars)
    return BarChart(slug, title, measure, _summary(bars, decimals), rows, ticks(scale, 5), zero)


def _ends(bars: Sequence[Bar]) -> list[float]:
    return [end for bar in bars for end in (bar.value, bar.low, bar.high) if end is not None]


def _row(bar: Bar, scale: Scale, zero: float, decimals: int) -> BarRow:
    end = scale.at(bar.value)
    whiskers: tuple[float, float] | None = None
    interval = ""
    if bar.low is not None and bar.high is not None:
        whiskers = scale.at(bar.low), scale.at(bar.high)
        interval = f"{written(bar.low, decimals)} to {written(bar.high, decimals)}"
    return BarRow(
        label=bar.label,
        text=written(bar.value, decimals),
        interval=interval,
        note=bar.note,
        is_flagged=bar.is_flagged,
        start=min(zero, end),
        length=round(abs(end - zero), 2),
        end=end,
        whisker_from=whiskers[0] if whiskers else None,
        whisker_to=whiskers[1] if whiskers else None,
    )


def _summary(bars: Sequence[Bar], decimals: int) -> str:
    if not bars:
        return "Nothing to show yet."
    least = min(bars, key=lambda bar: bar.value)
    most = max(bars, key=lambda bar: bar.value)
    return (
        f"{len(bars)} bars, from {written(least.value, decimals)} ({least.label}) "
        f"to {written(most.value, decimals)} ({most.label})."
    )
