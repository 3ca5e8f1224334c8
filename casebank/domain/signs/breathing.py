"""The lungs' movement on a loop: volume and flow at any time, for each way of breathing.

Owns the one clock of breathing that every sign reads. Volume is in units of a deep breath: 0 at
the end of a quiet breath out, 0.6 after a quiet breath in, 1 after a deep one, -0.6 breathed out
fully. The proportions of the phases are chosen here, not published.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from casebank.domain.signs.signal import LENGTH, Signal

IN, OUT = 0.4, 0.5
"""Shares of a breath: in, out; the rest is a pause."""

STILL = {"inspiration": 1.0, "held-inspiration": 1.0, "held-expiration": -0.6, "valsalva": 0.3}
SWING = {"quiet": (0.0, 0.6), "deep": (-0.1, 1.0), "after-cough": (-0.1, 1.0)}


@dataclass(frozen=True)
class Breathing:
    """A whole number of breaths on the loop, or a volume held still."""

    breaths: int
    low: float
    high: float

    @property
    def is_still(self) -> bool:
        """Whether no air moves."""
        return self.low == self.high

    def phase(self, seconds: Signal) -> Signal:
        """Share 0-1 of the breath at these times; a breath in begins at 0."""
        return np.asarray(np.mod(seconds * self.breaths / LENGTH, 1.0))

    def volume(self, seconds: Signal) -> Signal:
        """Lung volume at these times."""
        phase = self.phase(seconds)
        rise = 0.5 - 0.5 * np.cos(np.pi * phase / IN)
        fall = 0.5 + 0.5 * np.cos(np.pi * (phase - IN) / OUT)
        share = np.where(phase < IN, rise, np.where(phase < IN + OUT, fall, 0.0))
        return np.asarray(self.low + (self.high - self.low) * share)

    def flow(self, seconds: Signal) -> Signal:
        """Flow -1..1 relative to the peak of a deep breath in at 16 a minute; positive is in."""
        phase = self.phase(seconds)
        rise = np.sin(np.pi * phase / IN) / IN
        fall = -np.sin(np.pi * (phase - IN) / OUT) / OUT
        share = np.where(phase < IN, rise, np.where(phase < IN + OUT, fall, 0.0))
        return np.asarray((self.high - self.low) / 1.1 * share * IN * self.breaths / 4)


def breathing(rate: float, way: str) -> Breathing:
    """Breathing at about ``rate`` a minute; ``way`` is a value of the slot breathing.

    The loop holds a whole number of breaths: the rate is rounded to 4 a minute.
    """
    breaths = max(1, round(rate * LENGTH / 60))
    if way in STILL:
        return Breathing(breaths, STILL[way], STILL[way])
    low, high = SWING.get(way, SWING["quiet"])
    return Breathing(breaths, low, high)
