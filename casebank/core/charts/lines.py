"""Lines and steps over a common x axis; each series has its own dash, so colour is not needed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casebank.core.charts.plane import Axis, Plane, scales
from casebank.core.charts.scale import Scale, written

MOST_SERIES = 4


@dataclass(frozen=True)
class Series:
    """A named run of (x, y), in order of x; a step holds its value until the next x."""

    name: str
    points: tuple[tuple[float, float], ...]
    is_step: bool = False


@dataclass(frozen=True)
class Line:
    """A series laid out: SVG path data, where its name stands, its rows for the table."""

    name: str
    path: str
    order: int
    name_x: float
    name_y: float
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class LineChart:
    """A laid-out line chart."""

    slug: str
    title: str
    summary: str
    plane: Plane
    lines: tuple[Line, ...]


def line_chart(
    series: Sequence[Series],
    *,
    slug: str,
    title: str,
    x_axis: Axis,
    y_axis: Axis,
    decimals: int = 2,
) -> LineChart:
    """Lay out up to four series; ValueError for more, because they could not be told apart.

    ``decimals`` is how exactly y is written.
    """
    if len(series) > MOST_SERIES:
        raise ValueError(f"A line chart shows {MOST_SERIES} series at most: split the chart.")
    drawn = [one for one in series if one.points]
    xs = [x for one in drawn for x, _ in one.points]
    ys = [y for one in drawn for _, y in one.points]
    x, y, plane = scales(x_axis, y_axis, xs, ys)
    names_y = _apart([y.at(one.points[-1][1]) for one in drawn])
    lines = tuple(
        _line(one, order, x, y, name_y, decimals)
        for order, (one, name_y) in enumerate(zip(drawn, names_y, strict=True), start=1)
    )
    return LineChart(slug, title, _summary(drawn, decimals), plane, lines)


def _line(series: Series, order: int, x: Scale, y: Scale, name_y: float, decimals: int) -> Line:
    places = [(x.at(a), y.at(b)) for a, b in series.points]
    return Line(
        name=series.name,
        path=_steps(places) if series.is_step else _straight(places),
        order=order,
        name_x=places[-1][0],
        name_y=name_y,
        rows=tuple((written(a, 1), written(b, decimals)) for a, b in series.points),
    )


def _straight(places: Sequence[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{x} {y}" for x, y in places)


def _steps(places: Sequence[tuple[float, float]]) -> str:
    (x, y), *rest = places
    return f"M{x} {y}" + "".join(f"H{x}V{y}" for x, y in rest)


def _apart(places: Sequence[float], gap: float = 18.0) -> list[float]:
    """Heights for the names, each at least ``gap`` below the one above it, above its line."""
    placed: dict[int, float] = {}
    above = float("-inf")
    for index in sorted(range(len(places)), key=places.__getitem__):
        above = placed[index] = round(max(places[index] - 8, above + gap, 24.0), 2)
    return [placed[index] for index in range(len(places))]


def _summary(series: Sequence[Series], decimals: int) -> str:
    if not series:
        return "Nothing to show yet."
    ends = ", ".join(f"{one.name} ends at {written(one.points[-1][1], decimals)}" for one in series)
    return f"{ends}."
