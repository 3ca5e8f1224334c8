"""Filters between the body and the ear: chest piece, chest wall, weighted loudness.

Owns magnitudes over frequency. The two presets are chosen here: ``contrast`` exaggerates what
bells and diaphragms do so that it can be learned, ``realistic`` follows the small differences
measured by Abella 1992.
"""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.signal import Signal, a_weight

HABITUS = {
    "thin": (3.0, 700.0), "average": (0.0, 600.0), "obese": (-9.0, 300.0),
    "hyperinflated": (-12.0, 400.0),
}  # fmt: skip
"""Level in dB and low-pass corner in Hz; chosen, in the spread of measured chests (8 dB)."""


def chest_piece(hz: Signal, instrument: str, preset: str = "contrast") -> Signal:
    """Amplitude response of the bell or the diaphragm; anything else is heard by the ear alone."""
    if instrument == "bell":
        return np.asarray(1 / np.sqrt(1 + (hz / 250) ** 4))
    if instrument != "diaphragm":
        return np.ones_like(hz)
    high = 1 / np.sqrt(1 + (hz / 1200) ** 4)
    return np.asarray(_below_diaphragm(hz, preset) * high)


def _below_diaphragm(hz: Signal, preset: str) -> Signal:
    if preset == "realistic":
        shelf = 10 ** (-8 / 20)
        rise = (hz / 110) ** 4 / (1 + (hz / 110) ** 4)
        return np.asarray(shelf + (1 - shelf) * rise)
    return np.asarray((hz / 100) ** 2 / np.sqrt(1 + (hz / 100) ** 4))


def chest_wall(hz: Signal, habitus: str) -> Signal:
    """Amplitude response of the chest wall."""
    level, corner = HABITUS[habitus]
    return np.asarray(10 ** (level / 20) / np.sqrt(1 + (hz / corner) ** 4))


def heard_level(hz: Signal, power: Signal, response: Signal) -> float:
    """A-weighted level in dB of a sound of this power spectrum through this response."""
    weighted = float(np.sum(power * (response * a_weight(hz)) ** 2))
    return 10 * float(np.log10(max(weighted, 1e-20)))
