"""The frame of a chart with two axes: margins, axes and ticks, in units of its view box."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casebank.core.charts.scale import Scale, Tick, round_bounds, ticks

WIDTH, HEIGHT = 640.0, 400.0
LEFT, RIGHT, TOP, BOTTOM = 64.0, 24.0, 18.0, 58.0


@dataclass(frozen=True)
class Axis:
    """What an axis measures, and its ends where they are not to follow from the values."""

    label: str
    bounds: tuple[float, float] | None = None


@dataclass(frozen=True)
class Plane:
    """The frame laid out: ends of the plot and ticks of both axes."""

    x_label: str
    y_label: str
    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    width: float = WIDTH
    height: float = HEIGHT
    left: float = LEFT
    right: float = WIDTH - RIGHT
    top: float = TOP
    bottom: float = HEIGHT - BOTTOM

    @property
    def middle_x(self) -> float:
        """The middle of the plot, where the label of the x axis stands."""
        return (self.left + self.right) / 2

    @property
    def middle_y(self) -> float:
        """The middle of the plot, where the label of the y axis stands."""
        return (self.top + self.bottom) / 2


def scales(
    x_axis: Axis, y_axis: Axis, xs: Sequence[float], ys: Sequence[float]
) -> tuple[Scale, Scale, Plane]:
    """The two scales and the frame for these values."""
    x = Scale(*(x_axis.bounds or round_bounds(xs)), LEFT, WIDTH - RIGHT)
    y = Scale(*(y_axis.bounds or round_bounds(ys)), HEIGHT - BOTTOM, TOP)
    return x, y, Plane(x_axis.label, y_axis.label, ticks(x), ticks(y))
