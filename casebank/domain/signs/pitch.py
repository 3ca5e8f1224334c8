"""Sounds raised in pitch, for ears and speakers that cannot give the low ones.

Owns a single-sideband shift: timing stays exact. The caller must label it: "pitch raised, not as
heard at the bedside". It has no place in scored work unless granted as an adjustment.
"""

from __future__ import annotations

import numpy as np
from scipy.signal import hilbert

from casebank.domain.signs.signal import LENGTH, Samples, gain, times

SHIFT_HZ = 300.0
SOFTER_DB = -14.0
CEILING = gain(-3)


def pitch_raised(samples: Samples, shift_hz: float = SHIFT_HZ) -> Samples:
    """The sound (n,) with every frequency raised by ``shift_hz``, in whole turns of the loop.

    14 dB softer, for the ear hears the raised sound far better.
    """
    seconds = len(samples) * LENGTH / len(times())
    turns = round(shift_hz * seconds)
    angle = 2j * np.pi * turns * np.arange(len(samples)) / len(samples)
    raised = np.real(hilbert(samples.astype(np.float64)) * np.exp(angle)) * gain(SOFTER_DB)
    return np.asarray(np.clip(raised, -CEILING, CEILING), dtype=np.float32)
