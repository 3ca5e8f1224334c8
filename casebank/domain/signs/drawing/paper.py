"""Electrocardiogram paper: 25 mm/s and 10 mm/mV, one lead or twelve.

Owns the layout of paper. One millimetre is four units of the drawing.
"""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.drawing.svg import document, element, grid_path, line_path, text
from casebank.domain.signs.signal import Signal

MM = 4.0
PER_SECOND, PER_MV = 25 * MM, 10 * MM
STRIP_SECONDS, COLUMN_SECONDS = 10.0, 2.5
COLUMNS = (("I", "II", "III"), ("aVR", "aVL", "aVF"), ("V1", "V2", "V3"), ("V4", "V5", "V6"))
SPEED = "25 mm/s, 10 mm/mV"


def one_lead(curve: Signal, rate: int, title: str, describes: str) -> str:
    """Ten seconds of one lead."""
    width, height = STRIP_SECONDS * PER_SECOND, 30 * MM
    trace = _piece(curve, rate, 0.0, STRIP_SECONDS, 0.0, 18 * MM)
    words = text("II", 8, 20) + text(SPEED, width - 8, height - 8, text_anchor="end")
    return document(width, height, title, describes, _paper(width, height), trace, words)


def twelve_leads(curves: dict[str, Signal], rate: int, title: str, describes: str) -> str:
    """Three rows of four leads, 2.5 s each and running on, above ten seconds of lead II."""
    width, row = STRIP_SECONDS * PER_SECOND, 30 * MM
    parts = [_paper(width, 4 * row)]
    for column, leads in enumerate(COLUMNS):
        start = column * COLUMN_SECONDS
        for line, lead in enumerate(leads):
            left, middle = start * PER_SECOND, line * row + 16 * MM
            parts.append(_piece(curves[lead], rate, start, COLUMN_SECONDS, left, middle))
            parts.append(text(lead, left + 8, line * row + 20))
    parts.append(_piece(curves["II"], rate, 0.0, STRIP_SECONDS, 0.0, 3 * row + 18 * MM))
    parts.append(text("II", 8, 3 * row + 20))
    parts.append(text(SPEED, width - 8, 4 * row - 8, text_anchor="end"))
    return document(width, 4 * row, title, describes, *parts)


def _paper(width: float, height: float) -> str:
    fine = element("path", css="sign__grid", d=grid_path(0, 0, width, height, MM))
    strong = grid_path(0, 0, width, height, 5 * MM)
    return fine + element("path", css="sign__grid-strong", d=strong)


def _piece(
    curve: Signal, rate: int, start: float, seconds: float, left: float, middle: float
) -> str:
    values = curve[int(start * rate) : int((start + seconds) * rate) : 2]
    x = left + np.arange(len(values)) * 2 / rate * PER_SECOND
    return element("path", css="sign__trace", d=line_path(x, middle - values * PER_MV))
