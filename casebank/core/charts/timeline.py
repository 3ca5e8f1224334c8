"""Moments on a line of minutes, in one lane for each kind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casebank.core.charts.scale import Scale, Tick, round_bounds, ticks, written

WIDTH, LEFT, RIGHT, LANE, AXIS = 640.0, 140.0, 20.0, 40.0, 44.0


@dataclass(frozen=True)
class Moment:
    """Something that happened at a minute; ``kind`` chooses the lane; ``minutes`` it lasted.

    ``url`` makes its label in the table a link.
    """

    minute: float
    kind: str
    label: str
    minutes: float = 0.0
    url: str = ""


@dataclass(frozen=True)
class Mark:
    """A moment laid out."""

    x: float
    y: float
    length: float
    minute: str
    kind: str
    label: str
    url: str = ""


@dataclass(frozen=True)
class Lane:
    """The row of one kind."""

    name: str
    y: float


@dataclass(frozen=True)
class Timeline:
    """A laid-out timeline."""

    slug: str
    title: str
    summary: str
    lanes: tuple[Lane, ...]
    marks: tuple[Mark, ...]
    ticks: tuple[Tick, ...]
    height: float
    width: float = WIDTH
    left: float = LEFT
    right: float = WIDTH - RIGHT

    @property
    def axis_y(self) -> float:
        """Where the line of minutes runs."""
        return self.height - AXIS


def timeline(
    moments: Sequence[Moment], *, slug: str, title: str, kinds: Sequence[str] | None = None
) -> Timeline:
    """Lay out the moments; lanes in the order of ``kinds``, or of first appearance."""
    names = list(kinds) if kinds is not None else list(dict.fromkeys(m.kind for m in moments))
    lanes = {name: Lane(name, LANE * index + LANE / 2 + 6) for index, name in enumerate(names)}
    last = max((moment.minute + moment.minutes for moment in moments), default=0.0)
    _, end = round_bounds([0.0, last])
    scale = Scale(0.0, end, LEFT, WIDTH - RIGHT)
    marks = tuple(_mark(moment, scale, lanes[moment.kind]) for moment in moments)
    height = LANE * len(names) + 12 + AXIS
    words = f"{len(moments)} moments in {written(last, 0)} minutes." if moments else ""
    summary = words or "Nothing to show yet."
    return Timeline(slug, title, summary, tuple(lanes.values()), marks, ticks(scale), height)


def _mark(moment: Moment, scale: Scale, lane: Lane) -> Mark:
    x = scale.at(moment.minute)
    length = round(scale.at(moment.minute + moment.minutes) - x, 2)
    minute = written(moment.minute, 1)
    return Mark(x, lane.y, length, minute, moment.kind, moment.label, moment.url)
