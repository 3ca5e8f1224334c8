"""What a grade means in level: A-weighted, through the chest piece, against the first sound.

Owns calibration. Anchor: grade 1 is clearly softer than the heart sounds, 2 about equal, 3 clearly
louder (Keren 2005). Decibels per grade are chosen: freeze them only after clinicians have listened.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from casebank.domain.signs.chestpiece import chest_piece, chest_wall, heard_level
from casebank.domain.signs.heart.manoeuvres import BEST
from casebank.domain.signs.heart.murmurs import band, centre
from casebank.domain.signs.heart.transients import transient
from casebank.domain.signs.heart.transmission import site_db
from casebank.domain.signs.signal import RATE, Signal, add_at, gain
from casebank.domain.signs.spec import Lesion

GRADE_DB = {1: -10.0, 2: 0.0, 3: 6.0, 4: 10.0, 5: 14.0, 6: 18.0}
POINTS = 4096
S1_SECONDS = 0.140


def instrument_for(lesion: Lesion) -> str:
    """The chest piece the murmur is heard best with."""
    return "bell" if centre(lesion) < 110 else "diaphragm"


@lru_cache(maxsize=8)
def grid() -> Signal:
    """Frequencies in Hz on which levels are reckoned."""
    return np.asarray(np.fft.rfftfreq(POINTS, 1 / RATE))


@lru_cache(maxsize=64)
def response(instrument: str, habitus: str = "average", preset: str = "contrast") -> Signal:
    """Chest wall and chest piece together on the grid."""
    return chest_piece(grid(), instrument, preset) * chest_wall(grid(), habitus)


@lru_cache(maxsize=256)
def first_sound_level(instrument: str, seed: int) -> float:
    """A-weighted level of an ordinary S1 at the apex over 140 ms, in dB."""
    whole = np.zeros(POINTS)
    add_at(whole, 0.0, transient("m1", seed))
    add_at(whole, 0.025, transient("t1", seed) * gain(site_db("t1", "apex")))
    power = 2 * np.abs(np.fft.rfft(whole)) ** 2 / (POINTS * S1_SECONDS * RATE)
    return heard_level(grid(), power, response(instrument))


def murmur_power(lesion: Lesion) -> Signal:
    """Power of the murmur on the grid, for unit RMS."""
    power = band(grid(), lesion) ** 2
    return np.asarray(power / power.sum())


def lesion_gain(lesion: Lesion, seed: int) -> float:
    """Amplitude of unit-RMS noise that makes this murmur its grade, at its best place."""
    instrument = instrument_for(lesion)
    bare = heard_level(grid(), murmur_power(lesion), response(instrument))
    wanted = first_sound_level(instrument, seed) + GRADE_DB[lesion.grade]
    return gain(wanted - bare - BEST.get(lesion.type, 0.0))
