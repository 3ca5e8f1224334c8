"""The National Early Warning Score 2: points of six observations and oxygen, total, response.

Owns the published bands; the score and the printed table both read them. Knows no patient.

Reproduced from: Royal College of Physicians. National Early Warning Score (NEWS) 2: Standardising
the assessment of acute-illness severity in the NHS. Updated report of a working party. London:
RCP, 2017.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from typing import Literal

COLUMNS = (3, 2, 1, 0, 1, 2, 3)
"""Points of the chart's columns, from low values to high ones."""
ACKNOWLEDGEMENT = (
    "Reproduced from: Royal College of Physicians. National Early Warning Score (NEWS) 2: "
    "Standardising the assessment of acute-illness severity in the NHS. Updated report of a "
    "working party. London: RCP, 2017."
)
Consciousness = Literal["A", "C", "V", "P", "U"]
"""Alert, new confusion, responds to voice, responds to pain, unresponsive."""


class Response(StrEnum):
    """What the whole score asks for."""

    ROUTINE = "routine monitoring"
    LOW = "low: ward-based response"
    SINGLE = "low to medium: urgent ward-based response"
    MEDIUM = "medium: urgent response"
    HIGH = "high: emergency response"


@dataclass(frozen=True)
class Observations:
    """One set: breaths and beats /min, saturation %, systolic mmHg, temperature °C.

    Scale 2 of the saturation is only for confirmed hypercapnic failure with a prescribed target
    of 88-92 %. Temperature counts to one decimal, as it is charted. Raises ValueError for values
    nobody can have.
    """

    respiration: int
    saturation: int
    on_oxygen: bool
    systolic: int
    pulse: int
    consciousness: Consciousness
    temperature: float
    scale: Literal[1, 2] = 1

    def __post_init__(self) -> None:
        for name, most in LIMITS.items():
            value = getattr(self, name)
            if not (math.isfinite(value) and 0 <= value <= most):
                raise ValueError(f"Give {name} as a number from 0 to {most}.")
        if self.consciousness not in tuple("ACVPU"):
            raise ValueError("Give consciousness as one letter of A, C, V, P, U.")
        if self.scale not in (1, 2):
            raise ValueError("The saturation has scale 1 and scale 2.")


LIMITS = {"respiration": 200, "saturation": 100, "systolic": 400, "pulse": 400, "temperature": 50}


@dataclass(frozen=True)
class Score:
    """Points of each observation in the chart's order, their sum (0-20) and the response."""

    points: Mapping[str, int]
    total: int
    response: Response


@dataclass(frozen=True)
class Band:
    """A cell of the chart: its column, and the highest value that still falls into it."""

    column: int
    highest: float = math.inf


RESPIRATION = (Band(0, 8), Band(2, 11), Band(3, 20), Band(5, 24), Band(6))
SATURATION_1 = (Band(0, 91), Band(1, 93), Band(2, 95), Band(3))
SATURATION_2 = (Band(0, 83), Band(1, 85), Band(2, 87), Band(3, 92))
SATURATION_2_ON_OXYGEN = (Band(4, 94), Band(5, 96), Band(6))
SYSTOLIC = (Band(0, 90), Band(1, 100), Band(2, 110), Band(3, 219), Band(6))
PULSE = (Band(0, 40), Band(2, 50), Band(3, 90), Band(4, 110), Band(5, 130), Band(6))
TEMPERATURE = (Band(0, 35.0), Band(2, 36.0), Band(3, 38.0), Band(4, 39.0), Band(5))
OXYGEN_POINTS = 2
ALTERED_POINTS = 3


def score(seen: Observations) -> Score:
    """Points, total and response of one set of observations."""
    points = {
        "respiration": _points(RESPIRATION, seen.respiration),
        "saturation": _saturation(seen),
        "oxygen": OXYGEN_POINTS if seen.on_oxygen else 0,
        "systolic": _points(SYSTOLIC, seen.systolic),
        "pulse": _points(PULSE, seen.pulse),
        "consciousness": 0 if seen.consciousness == "A" else ALTERED_POINTS,
        "temperature": _points(TEMPERATURE, _to_one_decimal(seen.temperature)),
    }
    total = sum(points.values())
    return Score(points, total, response_to(total, has_single_3=3 in points.values()))


def response_to(total: int, *, has_single_3: bool) -> Response:
    """The response that a total asks for; any single 3 asks for an urgent ward review."""
    if total >= 7:
        return Response.HIGH
    if total >= 5:
        return Response.MEDIUM
    if has_single_3:
        return Response.SINGLE
    return Response.LOW if total else Response.ROUTINE


def _points(bands: tuple[Band, ...], value: float) -> int:
    return COLUMNS[next(band.column for band in bands if value <= band.highest)]


def _saturation(seen: Observations) -> int:
    if seen.scale == 1:
        return _points(SATURATION_1, seen.saturation)
    if seen.saturation <= SATURATION_2[-1].highest:
        return _points(SATURATION_2, seen.saturation)
    return _points(SATURATION_2_ON_OXYGEN, seen.saturation) if seen.on_oxygen else 0


def _to_one_decimal(value: float) -> float:
    return float(Decimal(str(value)).quantize(Decimal("0.1"), ROUND_HALF_UP))
