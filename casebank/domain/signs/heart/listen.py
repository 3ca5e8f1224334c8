"""The stethoscope on the chest: sources mixed for a place and a technique, filtered and levelled.

Owns mixing and the one gain a patient has: the loudest place reaches -6 dBFS and every other clip
of the patient is as much softer as it is at the bedside.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from casebank.domain.signs.beats.table import Beats
from casebank.domain.signs.breath.air import background
from casebank.domain.signs.chestpiece import chest_piece, chest_wall
from casebank.domain.signs.heart.manoeuvres import most_db, posed_db, volume_db
from casebank.domain.signs.heart.sources import Source, beats_of, ordinary_peak, sources
from casebank.domain.signs.heart.transmission import SITES, site_db
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.signal import (
    COUNT,
    Signal,
    amplitude,
    coloured_noise,
    frequencies,
    gain,
    spectrum,
    stream,
    stretched,
    times,
    unspectrum,
)
from casebank.domain.signs.spec import HeartSound

PEAK = gain(-6)
CEILING = gain(-3)


@lru_cache(maxsize=4)
def patient_sources(
    spec: HeartSound, posture: str, breathing: str, effort: str, stretch: int
) -> tuple[Beats, tuple[Source, ...]]:
    """Beats and components; moving the stethoscope does not make them anew."""
    setting = Setting("apex", posture=posture, breathing=breathing, effort=effort)
    table = beats_of(spec, setting)
    return table, sources(spec, table, setting, stretch)


def heart_loop(spec: HeartSound, setting: Setting, stretch: int = 1) -> tuple[Signal, Beats]:
    """The loop heard (COUNT * stretch,), within the ceiling, and the beats behind it.

    ``stretch``: how many times longer everything between the sounds lasts, their pitch kept.
    """
    how = (setting.posture, setting.breathing, setting.effort)
    table, parts = patient_sources(spec, *how, stretch)
    count = COUNT * stretch
    mixed = np.zeros(count)
    for part in parts:
        mixed += part.loop * _gains(part, table, setting, stretch)
    heard = unspectrum(spectrum(mixed) * _filter(spec, setting.instrument, count), count)
    heard += room(spec, count) + background(spec.patient, table.breathing, setting, stretch)
    return np.clip(heard * patient_gain(spec), -CEILING, CEILING), table


def _gains(part: Source, table: Beats, setting: Setting, stretch: int) -> Signal:
    """Amplitude over the loop: place, posture and effort, and breathing by lung volume."""
    level = site_db(part.name, setting.site) + posed_db(part.name, setting, part.unmoved)
    by_volume = 0.0 if setting.breathing in part.unmoved else volume_db(part.name)
    if table.breathing.is_still or by_volume == 0:
        return amplitude(level + by_volume * table.breathing.low)
    return stretched(amplitude(level + by_volume * table.breathing.volume(times())), stretch)


def _filter(spec: HeartSound, instrument: str, count: int = COUNT) -> Signal:
    hz = frequencies(count)
    return chest_wall(hz, spec.patient.habitus) * chest_piece(hz, instrument, spec.stethoscope)


@lru_cache(maxsize=8)
def room(spec: HeartSound, count: int) -> Signal:
    """Ward noise: pink from 40 Hz up, its level against an ordinary first sound's peak."""
    hz = frequencies(count)
    pink = np.where(hz >= 40, 1 / np.sqrt(np.maximum(hz, 40)), 0.0)
    return coloured_noise(stream(spec.patient.seed, "ward"), pink, count) * gain(spec.noise_db)


@lru_cache(maxsize=64)
def patient_gain(spec: HeartSound) -> float:
    """The factor that takes the loudest place, chest piece and technique to -6 dBFS.

    An ordinary first sound in an average chest counts too, so that distant hearts stay distant.
    """
    _, parts = patient_sources(spec, "reclined-45", "quiet", "relaxed", 1)
    spectra = [spectrum(part.loop) for part in parts]
    peaks = [
        _peak(spec, parts, spectra, site, piece)
        for site in SITES[:5]
        for piece in ("bell", "diaphragm")
    ]
    return PEAK / max(*peaks, ordinary_peak(spec.patient.seed))


def _peak(
    spec: HeartSound,
    parts: tuple[Source, ...],
    spectra: list[np.ndarray[tuple[int], np.dtype[np.complex128]]],
    site: str,
    piece: str,
) -> float:
    """Highest sample at the place when every component is brought out as far as it goes."""
    mixed = np.zeros(len(frequencies()), dtype=np.complex128)
    for part, values in zip(parts, spectra, strict=True):
        mixed += values * gain(site_db(part.name, site) + most_db(part.name))
    return float(np.abs(unspectrum(mixed * _filter(spec, piece), COUNT)).max())
