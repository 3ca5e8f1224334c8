"""Short heart sounds: damped modes with a slow rise.

Owns the shapes of single sounds at the place where each is loudest. Modes, slopes and levels are
chosen so that spectra and durations meet measured recordings; they confirm nothing themselves.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from casebank.domain.signs.signal import RATE, Signal, gain, stream


@dataclass(frozen=True)
class Modes:
    """Frequencies in Hz, amplitude slope in dB an octave, Q, rise in ms, peak in dB re M1."""

    hertz: tuple[float, ...]
    slope: float
    q: float
    rise_ms: float
    level: float


SOUNDS = {
    "m1": Modes((35, 50, 68, 94, 128, 172), 0.5, 3.2, 6, 0),
    "t1": Modes((37, 51, 70, 96, 132, 180), -1.5, 3.2, 6, -6),
    "a2": Modes((36, 50, 70, 98, 138, 195), -2.5, 3.2, 4, -1),
    "p2": Modes((33, 46, 64, 90, 125, 170), -3, 3.2, 4, -4),
    "third-sound": Modes((28, 40, 56), -8, 2.4, 12, -7),
    "right-third-sound": Modes((28, 40, 56), -8, 2.4, 12, -7),
    "fourth-sound": Modes((26, 37, 50), -8, 2.2, 13, -7),
    "right-fourth-sound": Modes((26, 37, 50), -8, 2.2, 13, -7),
    "knock": Modes((45, 66, 92, 128), -3, 2.4, 6, -4),
    "opening-snap": Modes((80, 115, 160, 220), -3, 2.0, 3, -6),
    "ejection-click": Modes((100, 145, 210, 300), -2.5, 1.8, 3, -6),
    "mid-systolic-click": Modes((110, 150, 190, 230), -2, 1.8, 3, -6),
    "prosthetic-mitral": Modes((420, 640, 900, 1250), -1, 6.0, 1, -19),
    "prosthetic-aortic": Modes((480, 720, 980, 1400), -1, 6.0, 1, -20),
}


@lru_cache(maxsize=256)
def transient(name: str, seed: int) -> Signal:
    """The sound's samples, 0.3 s at ``RATE``, with its peak at its level; a little one's own."""
    modes = SOUNDS[name]
    random = stream(seed, f"transient:{name}")
    time = np.arange(int(0.3 * RATE)) / RATE
    ring = np.zeros_like(time)
    for hertz in modes.hertz:
        own = hertz * (1 + 0.04 * random.uniform(-1, 1))
        ring += _mode(time, own, modes, random.uniform(-0.6, 0.6))
    ring *= 1 - np.exp(-((time / (modes.rise_ms / 1000)) ** 2))
    ring *= gain(modes.level) / float(np.abs(ring).max())
    ring.flags.writeable = False
    return ring


def _mode(time: Signal, hertz: float, modes: Modes, phase: float) -> Signal:
    decay = max(modes.q / (np.pi * hertz), 0.006)
    size = 10 ** (modes.slope * np.log2(hertz / modes.hertz[0]) / 20)
    return np.asarray(size * np.exp(-time / decay) * np.sin(2 * np.pi * hertz * time + phase))
