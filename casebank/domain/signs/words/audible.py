"""How loud each component of a heart is under a technique, without rendering it.

Owns one reckoning: decibels against an ordinary first sound at the apex, as the ear weighs them.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from casebank.domain.signs.breathing import breathing
from casebank.domain.signs.chestpiece import heard_level
from casebank.domain.signs.heart.grading import (
    GRADE_DB,
    POINTS,
    grid,
    instrument_for,
    murmur_power,
    response,
)
from casebank.domain.signs.heart.manoeuvres import BEST, posed_db, volume_db
from casebank.domain.signs.heart.transients import transient
from casebank.domain.signs.heart.transmission import site_db
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.signal import Signal
from casebank.domain.signs.spec import Extra, HeartSound, Lesion

FAINTEST_DB = -13.0
"""Softer than this, a noise is not heard; grade 1 is -10."""

FAINTEST_THUD_DB = -16.0
"""The same for a short sound, which stands alone in silence."""

RUB_DB = 4.0
"""A usual rub at its peaks, as measured on rendered clips."""


@dataclass(frozen=True)
class Heard:
    """Loudness breathed out and in (dB); equal while the breath is held."""

    out: float
    into: float

    @property
    def most(self) -> float:
        """Loudness at its loudest."""
        return max(self.out, self.into)

    @property
    def is_heard(self) -> bool:
        """Whether it is heard at all."""
        return self.most >= FAINTEST_DB


def _breathed(name: str, level: float, setting: Setting, unmoved: tuple[str, ...]) -> Heard:
    moving = breathing(16, setting.breathing)
    per_volume = 0.0 if setting.breathing in unmoved else volume_db(name)
    return Heard(level + per_volume * moving.low, level + per_volume * moving.high)


def heard_lesion(lesion: Lesion, spec: HeartSound, setting: Setting) -> Heard:
    """How loud this murmur is here."""
    own = heard_level(grid(), murmur_power(lesion), _through(spec, setting))
    best = heard_level(grid(), murmur_power(lesion), response(instrument_for(lesion)))
    level = GRADE_DB[lesion.grade] - BEST.get(lesion.type, 0.0) + own - best
    level += site_db(lesion.type, setting.site) + posed_db(lesion.type, setting, lesion.unmoved)
    return _breathed(lesion.type, level, setting, lesion.unmoved)


def heard_sound(name: str, louder: float, spec: HeartSound, setting: Setting) -> Heard:
    """How loud this short sound is here, ``louder`` dB above its usual level."""
    first = heard_level(grid(), _power("m1", spec.patient.seed), response("bell"))
    own = heard_level(grid(), _power(name, spec.patient.seed), _through(spec, setting))
    level = louder + own - first + site_db(name, setting.site) + posed_db(name, setting)
    return _breathed(name, level, setting, ())


def heard_extra(extra: Extra, spec: HeartSound, setting: Setting) -> Heard:
    """How loud this added sound is here; a rub is reckoned as noise, against the first sound."""
    if extra.type != "rub":
        return heard_sound(extra.type, extra.level_db, spec, setting)
    level = RUB_DB + extra.level_db + site_db("rub", setting.site) + posed_db("rub", setting)
    return _breathed("rub", level, setting, ())


def _through(spec: HeartSound, setting: Setting) -> Signal:
    return response(setting.instrument, spec.patient.habitus, spec.stethoscope)


@lru_cache(maxsize=256)
def _power(name: str, seed: int) -> Signal:
    return np.asarray(np.abs(np.fft.rfft(transient(name, seed), POINTS)) ** 2)
