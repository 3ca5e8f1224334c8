"""The minute ruler in the left margin of the sheet: one tick a minute, a long one every five."""

from __future__ import annotations

import math
from dataclasses import dataclass

PIXELS_A_MINUTE = 9.0
MOST_PIXELS = 180.0


@dataclass(frozen=True)
class RulerTick:
    """A whole minute on the ruler, in pixels below the start of the entry."""

    y: float
    is_major: bool


@dataclass(frozen=True)
class Ruler:
    """The stretch of ruler one entry takes; a cut one stands for more minutes than it draws."""

    height: float
    ticks: tuple[RulerTick, ...]
    is_cut: bool


def ruler(*, start: float, minutes: float) -> Ruler:
    """The ruler from ``start`` (minutes since the beginning) for the ``minutes`` an entry took.

    Ticks stand at whole minutes of the encounter, so neighbouring entries join into one scale.
    """
    if start < 0 or minutes < 0:
        raise ValueError("A ruler runs forward from minute 0: give times that are not negative.")
    height = min(minutes * PIXELS_A_MINUTE, MOST_PIXELS)
    drawn = height / PIXELS_A_MINUTE
    first, last = math.ceil(start - 1e-9), math.ceil(start + drawn - 1e-9)
    ticks = tuple(
        RulerTick(round((minute - start) * PIXELS_A_MINUTE, 2), minute % 5 == 0)
        for minute in range(first, last)
    )
    return Ruler(round(height, 2), ticks, minutes * PIXELS_A_MINUTE > MOST_PIXELS)
