"""Sounds added to breathing: wheeze, rhonchus, crackles, rub, stridor.

Owns their waveforms and where in the breath they fall. Levels are against vesicular breathing at
the peak of a deep breath.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from casebank.domain.signs.breathing import IN, OUT, Breathing
from casebank.domain.signs.signal import (
    COUNT,
    LENGTH,
    RATE,
    Signal,
    add_at,
    coloured_noise,
    frequencies,
    gain,
    stream,
    stretched,
    times,
)
from casebank.domain.signs.spec import Added


@dataclass(frozen=True)
class Air:
    """What an added sound is made from: the breathing, the place's own stream, the loudness.

    ``stretch``: how many times longer a breath lasts in the sound than in the patient.
    """

    added: Added
    breathing: Breathing
    seed: int
    place: str
    stretch: int = 1

    @property
    def count(self) -> int:
        """Samples of the loop."""
        return COUNT * self.stretch

    @property
    def period(self) -> float:
        """Seconds of one breath in the sound."""
        return LENGTH * self.stretch / self.breathing.breaths

    def noise(self, random: np.random.RandomState, hertz: float, octaves: float) -> Signal:
        """Unit-RMS noise in a log-normal band."""
        away = np.log2(np.maximum(frequencies(self.count), 1) / hertz) / octaves
        return coloured_noise(random, np.exp(-0.5 * away**2), self.count)

    @property
    def effort(self) -> float:
        """Swing of lung volume: 1 for a deep breath."""
        return (self.breathing.high - self.breathing.low) / 1.1

    def random(self, name: str) -> np.random.RandomState:
        """The stream of this sound at this place."""
        return stream(self.seed, f"{self.added.type}:{self.place}:{name}")

    def phases(self, usual: str) -> tuple[str, ...]:
        """The halves of the breath it falls in."""
        phase = self.added.phase or usual
        return ("inspiration", "expiration") if phase == "both" else (phase,)


def added_loop(air: Air) -> Signal:
    """The added sound on the loop; silent while no air moves."""
    if air.breathing.is_still:
        return np.zeros(air.count)
    return ADDED[air.added.type](air) * gain(air.added.level_db)


def crackle(width_ms: float, cycles_ms: float) -> Signal:
    """One crackle at ``RATE``: first half wave ``width_ms``, two cycles ``cycles_ms``.

    The formula of Kiyokawa 2001 (origin from memory), peak 1.
    """
    count = max(int(cycles_ms / 1000 * RATE), 8)
    t = np.arange(count) / count
    alpha = np.log(0.25) / np.log(width_ms / cycles_ms)
    wave = np.sin(4 * np.pi * t**alpha) * 0.5 * (1 + np.cos(2 * np.pi * (np.sqrt(t) - 0.5)))
    return np.asarray(wave / np.abs(wave).max())


@dataclass(frozen=True)
class Crackling:
    """Waveform (first half wave and two cycles, ms), share of the breath, number, loudness."""

    width_ms: float
    cycles_ms: float
    first: float
    last: float
    count: int
    peak: float


# Fine about 650 Hz and 5 ms, coarse about 350 Hz and 15 ms (Sci Rep 2021;11:17186, table 1).
# Coarse ones are made loud enough for a plain detector to tell from deep breathing.
# Two-cycle durations 3.3 and 10 give the first frequency and the ATS length of the second.
FINE = Crackling(0.5, 3.3, 0.55, 0.97, 14, 2.4)
COARSE = Crackling(1.5, 10.0, 0.08, 0.60, 8, 6.5)


def crackle_times(kind: Crackling, air: Air) -> Signal:
    """Starts in s: the same lung volumes in each breath, a hundredth of a breath apart."""
    random = air.random("places")
    steps = np.linspace(kind.first, kind.last, kind.count)
    places = steps + random.uniform(-0.3, 0.3, kind.count) * (steps[1] - steps[0])
    jitter = random.uniform(-0.005, 0.005, (air.breathing.breaths, kind.count))
    begins = np.arange(air.breathing.breaths)[:, None] * air.period
    shares = np.clip(places + jitter, kind.first, kind.last)
    return np.asarray(begins + shares * IN * air.period)


def _crackles(kind: Crackling, air: Air) -> Signal:
    loop = np.zeros(air.count)
    piece = crackle(kind.width_ms, kind.cycles_ms)
    random = air.random("sizes")
    sizes = random.uniform(0.55, 1.0, kind.count) * kind.peak * np.sqrt(air.effort)
    signs = np.where(random.uniform(0, 1, kind.count) < 0.76, -1, 1)  # Vyshedskiy 2009
    for breath in crackle_times(kind, air):
        for start, size in zip(breath, sizes * signs, strict=True):
            add_at(loop, float(start), piece * size)
    return loop


def _fine(air: Air) -> Signal:
    return _crackles(FINE, air)


def _coarse(air: Air) -> Signal:
    return _crackles(COARSE, air)


def _tone_window(air: Air, phase: str) -> tuple[float, float]:
    """Start and length in s of a long tone within one breath."""
    if phase == "inspiration":
        return 0.12 * IN * air.period, 0.8 * IN * air.period
    return (IN + 0.04 * OUT) * air.period, 0.86 * OUT * air.period


def _tones(air: Air, hertz: tuple[float, ...], harmonics: tuple[float, ...], usual: str) -> Signal:
    loop = np.zeros(air.count)
    for phase in air.phases(usual):
        start, length = _tone_window(air, phase)
        for breath in range(air.breathing.breaths):
            piece = _tone(air, hertz, harmonics, length)
            add_at(loop, breath * air.period + start, piece)
    return loop


def _tone(
    air: Air, hertz: tuple[float, ...], harmonics: tuple[float, ...], length: float
) -> Signal:
    """Tones that sink by 12 %, with their harmonics, swelling and fading."""
    random = air.random("tones")
    t = np.arange(int(length * RATE)) / RATE
    share = t / length
    turns = np.cumsum(1 - 0.12 * share) / RATE
    piece = np.zeros_like(t)
    for tone in hertz:
        own = tone * (1 + 0.03 * random.uniform(-1, 1))
        for order, size in enumerate(harmonics, start=1):
            piece += size * np.sin(2 * np.pi * (own * order * turns + random.uniform()))
    swell = np.sin(np.pi * np.clip(share, 0, 1)) ** 0.6
    return np.asarray(piece * swell * air.effort**0.8 / np.sqrt(len(hertz)))


def _wheeze(air: Air) -> Signal:
    one = air.added.pitch_hz
    return 1.1 * _tones(air, (one,) if one else (410, 560, 730), (1, 0.25), "expiration")


def _rhonchus(air: Air) -> Signal:
    return 0.9 * _tones(air, (air.added.pitch_hz or 140,), (1, 0.8, 0.6, 0.4), "expiration")


def _stridor(air: Air) -> Signal:
    """A loud tone above 500 Hz with hoarse air, breathing in."""
    tone = _tones(air, (air.added.pitch_hz or 640,), (1, 0.5, 0.3), "inspiration")
    hoarse = air.noise(air.random("hoarse"), 800, 0.6)
    inward = stretched(np.maximum(air.breathing.flow(times()), 0), air.stretch)
    return np.asarray(2.0 * tone + 0.8 * hoarse * inward)


def _rub(air: Air) -> Signal:
    """Nine creaks of 18-36 ms breathing in, and the same backwards breathing out."""
    random = air.random("creaks")
    noise = air.noise(random, 180, 0.5)
    shape = np.zeros(air.count)
    places, lengths = random.uniform(0.15, 0.9, 9), random.uniform(0.018, 0.036, 9)
    for breath in range(air.breathing.breaths):
        for place, length in zip(places, lengths, strict=True):
            creak = np.hanning(int(length * RATE))
            begin = breath * air.period
            add_at(shape, begin + place * IN * air.period, creak)
            add_at(shape, begin + (IN + (1 - place) * OUT) * air.period, creak)
    return np.asarray(noise * np.minimum(shape, 1.5) * 2.2 * air.effort)


ADDED: dict[str, Callable[[Air], Signal]] = {
    "wheeze": _wheeze,
    "rhonchus": _rhonchus,
    "fine-crackles": _fine,
    "coarse-crackles": _coarse,
    "rub": _rub,
    "stridor": _stridor,
}
