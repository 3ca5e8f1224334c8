"""Points in a plane, such as facility against discrimination; flagged points differ in shape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casebank.core.charts.plane import Axis, Plane, scales
from casebank.core.charts.scale import written


@dataclass(frozen=True)
class Point:
    """A labelled pair of values; a flagged one is drawn as a diamond and named."""

    label: str
    x: float
    y: float
    is_flagged: bool = False


@dataclass(frozen=True)
class Dot:
    """A point laid out."""

    label: str
    x: float
    y: float
    x_text: str
    y_text: str
    is_flagged: bool
    label_anchor: str
    label_x: float


@dataclass(frozen=True)
class Scatter:
    """A laid-out scatter; ``zero_y`` is the line y = 0 where the plot holds it."""

    slug: str
    title: str
    summary: str
    plane: Plane
    dots: tuple[Dot, ...]
    zero_y: float | None


def scatter(
    points: Sequence[Point], *, slug: str, title: str, x_axis: Axis, y_axis: Axis
) -> Scatter:
    """Lay out the points; labels of flagged points turn inwards at the right-hand side."""
    x, y, plane = scales(x_axis, y_axis, [p.x for p in points], [p.y for p in points])
    dots = tuple(_dot(point, x.at(point.x), y.at(point.y), plane) for point in points)
    flagged = sum(point.is_flagged for point in points)
    summary = f"{len(points)} points, {flagged} flagged." if points else "Nothing to show yet."
    zero = y.at(0.0) if y.low < 0.0 < y.high else None
    return Scatter(slug, title, summary, plane, dots, zero)


def _dot(point: Point, x: float, y: float, plane: Plane) -> Dot:
    is_right = x > plane.middle_x
    return Dot(
        label=point.label,
        x=x,
        y=y,
        x_text=written(point.x, 2),
        y_text=written(point.y, 2),
        is_flagged=point.is_flagged,
        label_anchor="end" if is_right else "start",
        label_x=x - 11 if is_right else x + 11,
    )
