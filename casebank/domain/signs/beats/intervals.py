"""Systolic time intervals by rate and sex, and the loudness of the first sound by PR.

Owns regressions; when beats come is ``rhythms``, and their table ``table``.
"""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.signal import Signal

# Weissler, Harris & Schoenfeld, Circulation 1968 (coefficients from memory): ms = a - b x rate.
EJECTION = {"male": (413.0, 1.7), "female": (418.0, 1.6)}
PREEJECTION = {"male": (131.0, 0.4), "female": (133.0, 0.4)}
QS2 = {"male": (546.0, 2.1), "female": (549.0, 2.0)}

RELAXATION = 0.096
"""Isovolumic relaxation, s: 96 +- 19 ms (Copenhagen City Heart Study)."""

PR_MS = (60.0, 100.0, 160.0, 220.0, 300.0)
PR_DB = (7.0, 5.0, 0.0, -6.0, -8.0)


def line(coefficients: tuple[float, float], rate: Signal) -> Signal:
    """Seconds of an interval at these rates a minute, held to 40-140."""
    intercept, slope = coefficients
    return np.asarray((intercept - slope * np.clip(rate, 40, 140)) / 1000)


def ejection(rate: Signal, sex: str) -> Signal:
    """Left ventricular ejection time in s."""
    return line(EJECTION[sex], rate)


def preejection(rate: Signal, sex: str) -> Signal:
    """Pre-ejection period in s, from Q."""
    return line(PREEJECTION[sex], rate)


def first_sound_by_pr(pr: Signal) -> Signal:
    """Loudness in dB of the first sound for PR in s; louder when the valve is caught open."""
    return np.asarray(np.interp(pr * 1000, PR_MS, PR_DB))
