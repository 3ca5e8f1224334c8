"""The column of the internal jugular vein: its height above the sternal angle over time.

Owns the waves' heights and their times in the beat. Heights of the waves are from memory; times
are chosen within the published order (a before S1, v after S2).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import PchipInterpolator

from casebank.domain.signs.beats.table import Beats
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.signal import LENGTH, Signal
from casebank.domain.signs.spec import VenousWave

RATE = 100
COUNT = int(RATE * LENGTH)
CM_PER_MMHG = 1.36
CANNON = 22.0
APART = 0.018


@dataclass(frozen=True)
class Waves:
    """mmHg of the waves and descents, fall in mmHg breathing in, seconds from v to y."""

    a: float | None
    c: float
    x: float
    v: float
    y: float
    h: float
    fall: float = 2.0
    y_after: float = 0.115


PATTERNS = {
    "normal": Waves(6.5, 5, 2, 5.2, 2.8, 4),
    "giant-a": Waves(15, 7, 4, 8, 5, 6.5),
    "tricuspid-regurgitation": Waves(10, 14, 13, 20, 6, 9),
    "constriction": Waves(17, 14, 7, 17, 5, 14.5, fall=-2.5, y_after=0.075),
    "tamponade": Waves(17, 14.5, 9, 15, 14, 14.5, fall=1.5),
}
FIBRILLATION = Waves(None, 5.2, 4.2, 6.6, 3, 4.8)

# The part of the neck that can be seen, in cm above the sternal angle: common practice, no source.
VISIBLE = {
    "supine": (-4.0, 3.0), "legs-raised": (-4.0, 3.0), "reclined-45": (0.0, 13.0),
    "sitting": (5.0, 20.0), "sitting-forward": (5.0, 20.0), "standing": (5.0, 20.0),
}  # fmt: skip
PRESSED = {"firm": 1.0, "moderate": 0.5}
PRESS, RELEASE = 3.0, 13.0


def waves_of(spec: VenousWave) -> Waves:
    """The waves of this pattern in this rhythm; fibrillating atria make no a wave."""
    waves = PATTERNS[spec.pattern]
    if spec.rhythm.name not in ("atrial-fibrillation", "atrial-flutter"):
        return waves
    if spec.pattern == "normal":
        return FIBRILLATION
    return Waves(None, waves.c, waves.x, waves.v, waves.y, waves.h, waves.fall, waves.y_after)


def knots(table: Beats, waves: Waves) -> list[tuple[float, float]]:
    """Times in s and heights in mmHg through which the column passes, in order."""
    found = [*_atrial_knots(table, waves), *_ventricular_knots(table, waves)]
    kept: list[tuple[float, float]] = []
    for time, height in sorted((time % LENGTH, height) for time, height in found):
        if not kept or time - kept[-1][0] >= APART:
            kept.append((time, height))
    return kept


def _atrial_knots(table: Beats, waves: Waves) -> list[tuple[float, float]]:
    if waves.a is None or not len(table.atrial):
        return []
    times = table.atrial + 0.110
    closed = table.is_closed(times)
    return [
        (float(time), CANNON if shut else waves.a) for time, shut in zip(times, closed, strict=True)
    ]


def _ventricular_knots(table: Beats, waves: Waves) -> list[tuple[float, float]]:
    found = []
    cannon = _cannon_times(table, waves)
    for m1, a2, p2, after in zip(table.m1, table.a2, table.p2, table.after, strict=True):
        trough, v = m1 + 0.66 * (a2 - m1), p2 + 0.065
        beat = [(m1 + 0.055, waves.c), (trough, waves.x), (v, waves.v)]
        beat.append((v + waves.y_after, waves.y))
        if after >= 0.8:
            beat.append((v + waves.y_after + 0.35 * (after - 0.5), waves.h))
        found += [knot for knot in beat if not _is_near(knot[0], cannon)]
    return found


def _cannon_times(table: Beats, waves: Waves) -> Signal:
    if waves.a is None or not len(table.atrial):
        return np.zeros(0)
    times = table.atrial + 0.110
    return np.asarray(times[table.is_closed(times)])


def _is_near(time: float, others: Signal) -> bool:
    """Within 90 ms of a cannon wave, which hides what else happens."""
    if not len(others):
        return False
    away = np.abs(np.mod(time - others + LENGTH / 2, LENGTH) - LENGTH / 2)
    return bool(away.min() < 0.09)


def column(spec: VenousWave, table: Beats, setting: Setting) -> Signal:
    """Height of the column's top in cm above the sternal angle (COUNT,), whether seen or not."""
    waves, places = waves_of(spec), knots(table, waves_of(spec))
    times = np.array([time for time, _ in places])
    heights = np.array([height for _, height in places])
    laps = np.concatenate((times - LENGTH, times, times + LENGTH))
    seconds = np.arange(COUNT) / RATE
    curve = PchipInterpolator(laps, np.tile(heights, 3))(seconds)
    breath = waves.fall * np.maximum(table.breathing.volume(seconds), 0) / 0.6
    top = max(waves.a or 0.0, waves.c, waves.v)
    moved = (curve - top - breath) * CM_PER_MMHG
    return np.asarray(spec.height_cm + moved + _pressed(spec, setting, seconds))


def _pressed(spec: VenousWave, setting: Setting, seconds: Signal) -> Signal:
    """Rise on pressing the abdomen from 3 to 13 s: small ones wear off while the hand is there."""
    share = PRESSED.get(setting.effort, 0.0)
    since = np.clip(seconds - PRESS, 0, None)
    rise = 1 - np.exp(-since / 0.6)
    if spec.reflux_cm < 3:
        rise = rise * np.exp(-since / 2.5)
    left = np.where(seconds > RELEASE, np.exp(-(seconds - RELEASE) / 0.5), 1.0)
    return np.asarray(share * spec.reflux_cm * rise * left)


def visible(setting: Setting) -> tuple[float, float]:
    """Lowest and highest place on the neck that can be seen, cm above the sternal angle."""
    return VISIBLE.get(setting.posture, VISIBLE["reclined-45"])
