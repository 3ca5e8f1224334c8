"""Pairs of things in a run of numbered places, as arrows: forwards where the order was kept.

An arrow that points back is dashed and flagged, so that colour is not needed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casebank.core.charts.scale import Scale, Tick, ticks

WIDTH, LEFT, RIGHT, LANE, AXIS, HEAD = 640.0, 40.0, 30.0, 34.0, 48.0, 9.0


@dataclass(frozen=True)
class Pair:
    """What should come first, what after it, and the places at which they came."""

    before: str
    after: str
    before_place: int
    after_place: int
    url: str = ""

    @property
    def is_kept(self) -> bool:
        """Whether the one came before the other."""
        return self.before_place < self.after_place


@dataclass(frozen=True)
class Arrow:
    """A pair laid out: from ``start`` to ``end`` at height ``y``, its head as path data."""

    number: int
    pair: Pair
    start: float
    end: float
    y: float
    head: str


@dataclass(frozen=True)
class PairChart:
    """A laid-out drawing of pairs."""

    slug: str
    title: str
    summary: str
    arrows: tuple[Arrow, ...]
    ticks: tuple[Tick, ...]
    height: float
    width: float = WIDTH
    left: float = LEFT
    right: float = WIDTH - RIGHT

    @property
    def axis_y(self) -> float:
        """Where the line of places runs."""
        return self.height - AXIS

    @property
    def middle(self) -> float:
        """The middle of that line, where its name stands."""
        return (self.left + self.right) / 2


def pair_chart(pairs: Sequence[Pair], *, slug: str, title: str) -> PairChart:
    """Lay out one arrow a pair, from the thing that should come first to the other."""
    last = max((max(p.before_place, p.after_place) for p in pairs), default=1)
    scale = Scale(0.0, float(max(last, 2)), LEFT, WIDTH - RIGHT)
    arrows = tuple(_arrow(number, pair, scale) for number, pair in enumerate(pairs, start=1))
    kept = sum(pair.is_kept for pair in pairs)
    summary = f"{kept} of {len(pairs)} kept." if pairs else "Nothing to show yet."
    marks = tuple(tick for tick in ticks(scale) if "." not in tick.text)
    return PairChart(slug, title, summary, arrows, marks, LANE * len(pairs) + 16 + AXIS)


def _arrow(number: int, pair: Pair, scale: Scale) -> Arrow:
    start, end = scale.at(pair.before_place), scale.at(pair.after_place)
    y = LANE * (number - 1) + LANE / 2 + 8
    back = -HEAD if pair.is_kept else HEAD
    head = f"M{end} {y}l{back:g} {-HEAD / 1.6:g}M{end} {y}l{back:g} {HEAD / 1.6:g}"
    return Arrow(number, pair, start, end, y, head)
