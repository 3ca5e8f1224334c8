"""The electrocardiogram: waves as bells in real time, placed by the table of beats.

Owns PR, QRS and QT in ms on the paper. QT follows the preceding interval by the Framingham line
QT = QTc - 154 (1 - RR) (from memory).
"""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.beats.table import Beats
from casebank.domain.signs.curves.leads import MEASURED, Waves, derived, waves_in
from casebank.domain.signs.signal import LENGTH, Signal
from casebank.domain.signs.spec import RhythmStrip

RATE = 500
COUNT = int(RATE * LENGTH)
NARROW_SD, WIDE_SD = 0.0105, 0.026
FIBRILLATION_HZ = (84, 96, 106)
"""Turns of the fibrillating atria on a loop: 5.6, 6.4 and 7.1 Hz."""


def _bell(loop: Signal, centre: float, sd: float, mv: float) -> None:
    if mv == 0:
        return
    reach = int(4 * sd * RATE)
    first = round(centre * RATE)
    offsets = np.arange(-reach, reach + 1)
    bell = np.exp(-0.5 * (((offsets + first) / RATE - centre) / sd) ** 2)
    np.add.at(loop, (first + offsets) % COUNT, mv * bell)


def qt(before: Signal, qtc_ms: float) -> Signal:
    """QT in s after these intervals."""
    return np.asarray((qtc_ms - 154 * (1 - np.clip(before, 0.4, 1.5))) / 1000)


def lead(table: Beats, waves: Waves, qtc_ms: float, *, is_broad: bool) -> Signal:
    """One lead in mV (COUNT,), without what the atria do in fibrillation or flutter."""
    loop = np.zeros(COUNT)
    for start in table.atrial:
        _bell(loop, float(start) + 0.050, 0.020, waves.p)
    ends = table.q + qt(table.before, qtc_ms)
    for r, end, is_wide in zip(table.r, ends, table.is_wide, strict=True):
        if is_wide:
            _wide(loop, r, end, waves)
        else:
            _beat(loop, r, end, waves, is_broad=is_broad)
    return loop


def _beat(loop: Signal, r: float, end: float, waves: Waves, *, is_broad: bool) -> None:
    sd = WIDE_SD if is_broad else NARROW_SD
    _bell(loop, r - 2.2 * sd, 0.7 * sd, waves.q)
    _bell(loop, r, sd, waves.r)
    _bell(loop, r + (1.4 if is_broad else 2.3) * sd, 0.8 * sd, waves.s)
    _bell(loop, r + 0.055, 0.016, waves.late)
    _bell(loop, r + 0.140, 0.055, waves.st)
    _bell(loop, end - 0.085, 0.042, waves.t - 0.3 * waves.late)
    _bell(loop, r - 0.034, 0.0125, waves.deep)
    _strained(loop, r, end, waves.strain)


def _strained(loop: Signal, r: float, end: float, mv: float) -> None:
    """From a lowered segment slowly down into the T wave, and quickly back."""
    if mv == 0:
        return
    low = end - 0.070
    _bell(loop, low, 0.028, 0.45 * mv)
    for share in np.linspace(0.2, 1, 7):
        _bell(loop, r + 0.05 + share * (low - r - 0.05), 0.026, 0.22 * mv * (0.5 + 0.8 * share))


def _wide(loop: Signal, r: float, end: float, waves: Waves) -> None:
    """A beat from the ventricle: broad, with its T wave the other way."""
    size = waves.r - abs(waves.s) * 0.6
    _bell(loop, r, WIDE_SD, 1.1 * size)
    _bell(loop, r + 0.062, WIDE_SD, -0.45 * size)
    _bell(loop, end - 0.075, 0.05, -0.35 * size)


def _atrial_activity(name: str, gain: float, count: int) -> Signal:
    """What the atria do between ``count`` beats when they do not contract."""
    turn = 2 * np.pi * np.arange(COUNT) / COUNT
    if name == "atrial-fibrillation":
        return np.asarray(sum(0.035 * gain * np.sin(n * turn + 0.7 * n) for n in FIBRILLATION_HZ))
    if name == "atrial-flutter":
        waves = count * round(75 / count)
        saw = sum(np.sin(waves * order * turn) / order for order in (1, 2, 3))
        return np.asarray(-0.14 * gain * saw)
    return np.zeros(COUNT)


def measured(spec: RhythmStrip, table: Beats, name: str) -> Signal:
    """A measured lead in mV."""
    waves = waves_in(name, spec.conduction, spec.st, spec.q, spec.strain)
    curve = lead(table, waves, spec.qtc_ms, is_broad=spec.conduction == "left-bundle")
    own = {"V1": 0.7, "I": 0.3, "II": 1.0}.get(name, 0.25)
    return spec.voltage * curve + _atrial_activity(spec.rhythm.name, own, len(table.r))


def twelve(spec: RhythmStrip, table: Beats) -> dict[str, Signal]:
    """All twelve leads in mV."""
    return derived({name: measured(spec, table, name) for name in MEASURED})
