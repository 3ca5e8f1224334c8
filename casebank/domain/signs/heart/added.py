"""Added heart sounds on the loop: third and fourth sounds, snaps, clicks, rub, prostheses.

Owns when they fall. Their shapes are ``transients``.
"""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.beats.table import Beats
from casebank.domain.signs.heart.murmurs import SNAP_MS
from casebank.domain.signs.heart.transients import transient
from casebank.domain.signs.signal import (
    COUNT,
    RATE,
    Signal,
    add_at,
    coloured_noise,
    frequencies,
    gain,
    stream,
    stretched,
)
from casebank.domain.signs.spec import Extra, HeartSound

THIRD_MS, KNOCK_MS, FOURTH_MS = 145.0, 105.0, 100.0
"""After A2 (published 120-150; knock 90-120, from memory); after P."""


def extra_source(
    extra: Extra, spec: HeartSound, table: Beats, click: Signal, stretch: int = 1
) -> Signal:
    """The added sound's loop at its best place, the time between its beats drawn out."""
    if extra.type == "rub":
        return _rub(extra, spec, table, stretch)
    loop = np.zeros(COUNT * stretch)
    piece = transient(extra.type, spec.patient.seed)
    for start, db in extra_times(extra, spec, table, click):
        add_at(loop, start * stretch, piece * gain(db + extra.level_db))
    return loop


def extra_times(
    extra: Extra, spec: HeartSound, table: Beats, click: Signal
) -> list[tuple[float, float]]:
    """When the added sound falls, with a level in dB for each time."""
    if extra.type.startswith("prosthetic"):
        return _prosthetic(extra.type, table)
    return [(float(start), 0.0) for start in _starts(extra, spec, table, click)]


def _starts(extra: Extra, spec: HeartSound, table: Beats, click: Signal) -> Signal:
    if extra.type == "mid-systolic-click":
        return click
    if extra.type == "ejection-click":
        return np.asarray(table.ejection + _late(extra, 4.0))
    if extra.type.endswith("fourth-sound"):
        return _fourth(extra, table)
    usual = {"knock": KNOCK_MS, "opening-snap": _snap_ms(spec)}.get(extra.type, THIRD_MS)
    starts = np.asarray(table.a2 + _late(extra, usual))
    return np.asarray(starts[starts < table.next_m1 - 0.02])


def _late(extra: Extra, usual_ms: float) -> float:
    return (usual_ms if extra.after_ms is None else extra.after_ms) / 1000


def _fourth(extra: Extra, table: Beats) -> Signal:
    """After each P, unless the atria contract against shut valves; none in fibrillation."""
    if not table.has_p_waves:
        return np.zeros(0)
    starts = table.atrial + _late(extra, FOURTH_MS)
    return np.asarray(starts[~table.is_closed(starts)])


def _snap_ms(spec: HeartSound) -> float:
    narrow = [lesion for lesion in spec.lesions if lesion.type == "mitral-stenosis"]
    return SNAP_MS[narrow[0].severity] if narrow else 80.0


def _prosthetic(kind: str, table: Beats) -> list[tuple[float, float]]:
    """A closing click where the natural sound was, and a softer opening one."""
    if kind == "prosthetic-mitral":
        shut, opened = table.m1, table.a2 + 0.085
    else:
        shut, opened = table.a2, table.ejection + 0.004
    return [(float(t), 0.0) for t in shut] + [(float(t), -8.0) for t in opened]


def _rub(extra: Extra, spec: HeartSound, table: Beats, stretch: int) -> Signal:
    """Scratching in systole, early filling and atrial contraction."""
    random = stream(spec.patient.seed, "rub")
    count = COUNT * stretch
    hz = frequencies(count)
    octaves = np.log2(np.maximum(hz, 1) / 210) / 0.8
    noise = coloured_noise(random, np.exp(-0.5 * octaves**2), count)
    grain = np.abs(coloured_noise(random, np.exp(-((hz / 35) ** 2)), count))
    shape = np.zeros(COUNT)
    for start, length, size in _rub_phases(table):
        add_at(shape, start, size * np.hanning(int(length * RATE)))
    shape = stretched(shape, stretch)
    return np.asarray(noise * shape * (0.25 + grain) * gain(-27 + extra.level_db))


def _rub_phases(table: Beats) -> list[tuple[float, float, float]]:
    systole = (table.a2 - table.ejection) * 0.7
    phases = [
        (float(t) + 0.02, float(d), 1.0) for t, d in zip(table.ejection, systole, strict=True)
    ]
    phases += [(float(t) + 0.03, 0.12, 0.7) for t in table.opening]
    phases += [(float(t) + 0.06, 0.11, 0.8) for t in table.atrial]
    return phases
