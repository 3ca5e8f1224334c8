"""Charts put every number where its value says."""

import itertools
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.core.charts.bars import Bar, bar_chart
from casebank.core.charts.lines import Series, line_chart
from casebank.core.charts.plane import Axis
from casebank.core.charts.scatter import Point, scatter
from casebank.core.charts.timeline import Moment, timeline

share = st.floats(0, 1)


def facility(*bars, **more):
    return bar_chart(bars, slug="f", title="Facility", measure="Facility", **more)


@given(share)
def test_a_bar_is_as_long_as_its_share_of_the_axis(value):
    row = facility(Bar("apex", value), bounds=(0, 1)).rows[0]
    assert row.start == 0
    assert row.length == pytest.approx(100 * value, abs=0.01)


def test_a_negative_bar_runs_to_the_left_of_zero():
    row = facility(Bar("apex", -0.5), bounds=(-1, 1)).rows[0]
    assert (row.start, row.length, row.end) == (25, 25, 25)


def test_whiskers_and_interval_are_shown_where_both_ends_are_known():
    chart = facility(Bar("apex", 0.5, 0.4, 0.65), Bar("jvp", 0.2), bounds=(0, 1))
    assert (chart.rows[0].whisker_from, chart.rows[0].whisker_to) == (40, 65)
    assert chart.rows[0].interval == "0.40 to 0.65"
    assert chart.rows[1].interval == ""
    assert chart.has_intervals


def test_without_bounds_the_axis_holds_zero_and_every_whisker():
    chart = facility(Bar("apex", 12, 9, 17))
    assert chart.zero == 0
    assert float(chart.ticks[-1].text) >= 17


def test_an_empty_chart_says_so():
    assert facility().summary == "Nothing to show yet."
    assert facility().rows == ()


def plane_of(points):
    return scatter(
        points,
        slug="s",
        title="Items",
        x_axis=Axis("Facility", (0, 1)),
        y_axis=Axis("Discrimination", (-1, 1)),
    )


@given(st.lists(st.tuples(share, st.floats(-1, 1)), min_size=1, max_size=10))
def test_points_lie_inside_the_frame_and_higher_values_stand_higher(pairs):
    chart = plane_of([Point(str(i), x, y) for i, (x, y) in enumerate(pairs)])
    plane = chart.plane
    for dot in chart.dots:
        assert plane.left <= dot.x <= plane.right
        assert plane.top <= dot.y <= plane.bottom
    highest = max(range(len(pairs)), key=lambda i: pairs[i][1])
    assert chart.dots[highest].y == min(dot.y for dot in chart.dots)


def test_a_scatter_counts_its_flags_and_draws_the_zero_line():
    chart = plane_of([Point("a", 0.2, -0.1, is_flagged=True), Point("b", 0.9, 0.4)])
    assert chart.summary == "2 points, 1 flagged."
    assert chart.zero_y == (chart.plane.top + chart.plane.bottom) / 2
    assert [dot.label_anchor for dot in chart.dots] == ["start", "end"]


def lines_of(*series):
    return line_chart(
        series, slug="l", title="Lines", x_axis=Axis("minutes", (0, 10)), y_axis=Axis("p", (0, 1))
    )


def test_a_step_line_goes_across_before_it_goes_up():
    path = lines_of(Series("p", ((0, 0.0), (5, 1.0)), is_step=True)).lines[0].path
    assert re.fullmatch(r"M64\.0 342\.0H340\.0V18\.0", path)


def test_names_at_the_ends_of_close_lines_do_not_overlap():
    chart = lines_of(*(Series(str(i), ((0, 0.0), (9, 0.5 + i / 100))) for i in range(4)))
    heights = sorted(line.name_y for line in chart.lines)
    assert all(b - a >= 18 for a, b in itertools.pairwise(heights))


def test_a_fifth_line_is_refused():
    with pytest.raises(ValueError, match="split the chart"):
        lines_of(*(Series(str(i), ((0, 0.0),)) for i in range(5)))


def test_series_without_points_are_left_out():
    assert lines_of(Series("none", ())).summary == "Nothing to show yet."


def test_a_timeline_has_a_lane_for_each_kind_and_lengths_by_minutes():
    chart = timeline(
        [Moment(0, "asked", "history", 5), Moment(10, "stage", "worse")], slug="t", title="Time"
    )
    first, second = chart.marks
    assert [lane.name for lane in chart.lanes] == ["asked", "stage"]
    assert first.length == pytest.approx((second.x - first.x) / 2)
    assert second.length == 0


def test_a_timeline_says_how_long_it_took_not_how_long_its_axis_is():
    chart = timeline([Moment(11.25, "Asked", "Look", 1.0)], slug="t", title="T")
    assert chart.summary == "1 moments in 12 minutes."
    assert chart.ticks[-1].text == "15"


def test_lines_are_written_as_exactly_as_asked():
    series = [Series("a", ((0.0, 17.5), (1.0, 45.304)))]
    axes = {"x_axis": Axis("x", (0, 1)), "y_axis": Axis("y", (0, 100))}
    assert line_chart(series, slug="l", title="L", **axes).summary == "a ends at 45.30."
    assert line_chart(series, slug="l", title="L", **axes, decimals=0).summary == "a ends at 45."
