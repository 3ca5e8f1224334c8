"""The sound of moving air: vesicular and bronchial breathing from flow.

Owns spectra and loudness by flow. Amplitude follows flow to the power 1.66 (Gavriely & Cugell);
slopes lie in the published ranges of Gavriely 1995 (-12.7 to -15.2 dB an octave breathing in,
-13.4 to -20.3 out).
"""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.breathing import Breathing
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.signal import (
    COUNT,
    Signal,
    coloured_noise,
    frequencies,
    gain,
    stream,
    stretched,
    times,
)
from casebank.domain.signs.spec import Patient

POWER = 1.66
OUT_SOFTER = 1 / 2.2
"""Breathing out against in at equal flow: 2.0-2.4 on the chest wall, 1 over the trachea."""

QUALITY_DB = {"vesicular": 0.0, "bronchial": 3.0, "reduced": -12.0, "absent": -60.0}


def _falling(knee: float, before: float, after: float, count: int) -> Signal:
    """Amplitude falling ``before`` dB an octave from 60 Hz to the knee, ``after`` beyond."""
    octaves = np.log2(np.maximum(frequencies(count), 1.0) / knee)
    start = np.log2(60 / knee)
    db = np.where(octaves < 0, before * octaves, after * octaves)
    low = np.where(octaves < start, -18 * (start - octaves), 0.0)
    return np.asarray(10 ** ((db + low) / 20))


def vesicular(seed: int, flow: Signal, name: str) -> Signal:
    """Soft, low sound: louder and less dull breathing in."""
    random, count = stream(seed, f"air:{name}"), len(flow)
    into = coloured_noise(random, _falling(140, -3, -14, count), count)
    out = coloured_noise(random, _falling(140, -3, -17, count), count)
    inward, outward = np.maximum(flow, 0) ** POWER, np.maximum(-flow, 0) ** POWER
    return np.asarray(into * inward + out * outward * OUT_SOFTER)


def bronchial(seed: int, flow: Signal, name: str) -> Signal:
    """Harsh sound, flat to about 1 kHz; breathing out is as loud and as long as in."""
    random, count = stream(seed, f"tube:{name}"), len(flow)
    noise = coloured_noise(random, _falling(1000, 0, -24, count), count)
    inward, outward = np.maximum(flow, 0) ** POWER, np.maximum(-flow, 0) ** POWER
    return np.asarray(noise * (inward + 1.45 * outward))


def air(quality: str, seed: int, flow: Signal, name: str) -> Signal:
    """The sound of this quality; 1 is the RMS of vesicular air at the peak of a deep breath."""
    make = bronchial if quality == "bronchial" else vesicular
    return make(seed, flow, name) * gain(QUALITY_DB[quality])


def background(patient: Patient, moving: Breathing, setting: Setting, stretch: int = 1) -> Signal:
    """Breathing heard behind the heart: -36 dB re an ordinary S1 when deep; louder at the bases."""
    if moving.is_still:
        return np.zeros(COUNT * stretch)
    level = -26.0 if setting.site in ("lung-bases", "between-scapulae") else -36.0
    if setting.site == "carotid":
        level = -32.0
    flow = stretched(moving.flow(times()), stretch)
    return vesicular(patient.seed, flow, "heart") * gain(level)
