"""A compiled report as charts and as a flat table."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Any

from casebank.core.charts.bars import Bar, BarChart, bar_chart

COLUMNS = (
    "case", "students", "step", "facility", "facility low", "facility high",
    "discrimination", "discrimination low", "discrimination high", "note",
    "mean computed mark", "marks adjusted by a tutor", "their mean as adjusted",
    "their mean as computed", "mean of all with adjusted marks",
)  # fmt: skip
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def facility_chart(case: dict[str, Any], place: int) -> BarChart:
    """Facility of each essential step with its interval, hardest first; hidden cells left out."""
    shown = [step for step in case["steps"] if step["facility"]]
    shown.sort(key=lambda step: step["facility"]["value"])
    bars = [
        Bar(
            label=step["label"],
            value=step["facility"]["value"],
            low=step["facility"]["ci_low"],
            high=step["facility"]["ci_high"],
            note=f"n = {step['facility']['n_used']}",
        )
        for step in shown
    ]
    return bar_chart(
        bars,
        slug=f"facility-{place}",
        title="Share of students who did each essential step",
        measure="Facility",
        bounds=(0, 1),
    )


def csv_of(result: dict[str, Any]) -> str:
    """The report as CSV; a cell that a spreadsheet would take for a formula begins with '."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for case in result["cases"]:
        for row in _csv_rows(case):
            writer.writerow([_safe(cell) for cell in row])
    return out.getvalue()


def _csv_rows(case: dict[str, Any]) -> Iterator[list[Any]]:
    if case["hidden"]:
        yield [case["title"], "", "", *[""] * 6, case["hidden"], *[""] * 5]
        return
    for step in case["steps"]:
        numbers = [*_three(step["facility"]), *_three(step["discrimination"])]
        yield [case["title"], case["n"], step["label"], *numbers, step["bound"], *_marks(case)]


def _marks(case: dict[str, Any]) -> list[Any]:
    """The means of the marks; a report compiled before tutors' totals were counted has no such."""
    beside = case.get("adjusted") or {"n": "", "bound": ""}
    means = [beside.get(name) for name in ("mean", "computed", "mean_of_all")]
    return [
        case["mean"],
        beside["bound"] or beside["n"],
        *("" if one is None else one for one in means),
    ]


def _three(estimate: dict[str, Any] | None) -> list[Any]:
    if not estimate or estimate["value"] is None:
        return ["", "", ""]
    return [estimate["value"], estimate["ci_low"], estimate["ci_high"]]


def _safe(cell: Any) -> Any:
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(FORMULA_STARTS) else cell
