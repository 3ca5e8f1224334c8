"""The NEWS2 chart in words, made from the bands that the score uses; scores nothing itself."""

from __future__ import annotations

import math
from dataclasses import dataclass

from casebank.domain.examination import news2
from casebank.domain.examination.news2 import Band, Response


@dataclass(frozen=True)
class ChartRow:
    """One observation with the seven cells of its row; an empty cell is never reached."""

    label: str
    cells: tuple[str, ...]


@dataclass(frozen=True)
class ChartResponse:
    """What a total asks for, and how often to observe again."""

    total: str
    response: str
    monitoring: str


RESPONSES = (
    ChartResponse("0", Response.ROUTINE.value, "at least every 12 hours"),
    ChartResponse("1–4", Response.LOW.value, "at least every 4 to 6 hours"),
    ChartResponse("3 in any one observation", Response.SINGLE.value, "at least every hour"),
    ChartResponse("5–6", Response.MEDIUM.value, "at least every hour"),
    ChartResponse("7 or more", Response.HIGH.value, "continuously"),
)
"""Source: Royal College of Physicians, National Early Warning Score (NEWS) 2, 2017, chart 4:
clinical response to the NEWS trigger thresholds."""


def chart_rows() -> tuple[ChartRow, ...]:
    """All rows, in the chart's order."""
    return (
        _row("Respiration rate (per minute)", news2.RESPIRATION),
        _row("Oxygen saturation, scale 1 (%)", news2.SATURATION_1),
        _saturation_2(),
        ChartRow("Air or oxygen", ("", "oxygen", "", "air", "", "", "")),
        _row("Systolic blood pressure (mmHg)", news2.SYSTOLIC),
        _row("Pulse (per minute)", news2.PULSE),
        ChartRow(
            "Consciousness",
            ("", "", "", "alert", "", "", "new confusion, voice, pain or unresponsive"),
        ),
        _row("Temperature (°C)", news2.TEMPERATURE, 0.1),
    )


def _row(label: str, bands: tuple[Band, ...], unit: float = 1) -> ChartRow:
    return ChartRow(label, tuple(_cells(bands, unit)))


def _cells(bands: tuple[Band, ...], unit: float, lowest: float = -math.inf) -> list[str]:
    cells = [""] * len(news2.COLUMNS)
    for band in bands:
        cells[band.column] = _range(lowest, band.highest, unit)
        lowest = band.highest + unit
    return cells


def _range(lowest: float, highest: float, unit: float) -> str:
    low, high = _number(lowest, unit), _number(highest, unit)
    if math.isinf(lowest):
        return f"≤{high}"
    return f"≥{low}" if math.isinf(highest) else f"{low}–{high}"


def _number(value: float, unit: float) -> str:
    return f"{value:.0f}" if unit == 1 else f"{value:.1f}"


def _saturation_2() -> ChartRow:
    end = news2.SATURATION_2[-1].highest + 1
    on_any = _cells(news2.SATURATION_2, 1)
    on_oxygen = _cells(news2.SATURATION_2_ON_OXYGEN, 1, end)
    cells = [
        one or (f"{two} on oxygen" if two else "")
        for one, two in zip(on_any, on_oxygen, strict=True)
    ]
    cells[3] += f", or ≥{end:.0f} on air"
    return ChartRow("Oxygen saturation, scale 2 (%)", tuple(cells))
