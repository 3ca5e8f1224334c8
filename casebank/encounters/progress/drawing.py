"""The drawings of the progress page: marks over encounters, and calibration."""

from __future__ import annotations

from collections.abc import Sequence

from casebank.core.charts.lines import LineChart, Series, line_chart
from casebank.core.charts.plane import Axis
from casebank.domain.debrief.forecasts import Calibration
from casebank.encounters.progress.shapes import EncounterRow

FEWEST_FOR_A_LINE = 2


def marks_chart(rows: Sequence[EncounterRow]) -> LineChart | None:
    """Computed totals over encounters, oldest first; None below two."""
    if len(rows) < FEWEST_FOR_A_LINE:
        return None
    points = tuple((float(place), row.total) for place, row in enumerate(rows, start=1))
    return line_chart(
        [Series("Mark", points)],
        slug="marks-over-time",
        title="Your marks, encounter by encounter",
        x_axis=Axis("Encounter", (1, max(len(rows), 2))),
        y_axis=Axis("Mark", (0, 100)),
    )


def calibration_chart(calibration: Calibration | None) -> LineChart | None:
    """How often it was so against what was stated; None where there are no bins."""
    if calibration is None or not calibration.bins:
        return None
    points = tuple((100 * one.mean_forecast, 100 * one.observed) for one in calibration.bins)
    return line_chart(
        [Series("As often as stated", ((0.0, 0.0), (100.0, 100.0))), Series("You", points)],
        slug="calibration",
        title="What you stated, and how often it was so",
        x_axis=Axis("Stated, %", (0, 100)),
        y_axis=Axis("Was so, %", (0, 100)),
    )
