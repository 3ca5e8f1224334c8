"""Circular signals: seeded streams, colouring in the frequency domain, placing, levels.

Owns arithmetic on one loop of sound; knows nothing of hearts or lungs.
"""

from __future__ import annotations

import hashlib
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy import fft

Signal = NDArray[np.float64]
Flags = NDArray[np.bool_]
Samples = NDArray[np.float32]

RATE = 8000
"""Samples a second of every sound: the lowest rate a browser must support; fine crackles fit."""

LENGTH = 15.0
"""Seconds of every loop, so that no file's length or size tells anything."""

COUNT = int(RATE * LENGTH)


def stream(seed: int, component: str) -> np.random.RandomState:
    """A stream of its own for each component, so that one sign never changes another.

    The frozen legacy generator gives the same numbers in every numpy release.
    """
    digest = hashlib.sha256(f"{seed}:{component}".encode()).digest()
    return np.random.RandomState(int.from_bytes(digest[:4], "big"))


def amplitude(db: float | Signal) -> Signal:
    """Amplitude factor of a level in decibels."""
    return np.asarray(10.0 ** (np.asarray(db, dtype=np.float64) / 20.0))


def gain(db: float) -> float:
    """Amplitude factor of one level in decibels."""
    return float(10.0 ** (db / 20.0))


@lru_cache(maxsize=4)
def frequencies(count: int = COUNT) -> Signal:
    """Frequencies in Hz of the real spectrum of a loop of ``count`` samples."""
    found = fft.rfftfreq(count, 1.0 / RATE)
    found.flags.writeable = False
    return np.asarray(found)


@lru_cache(maxsize=4)
def times(count: int = COUNT) -> Signal:
    """Time in seconds of every sample of a loop."""
    found = np.arange(count) / RATE
    found.flags.writeable = False
    return np.asarray(found)


def stretched(values: Signal, stretch: int) -> Signal:
    """A slow course (n,) on the loop drawn out to ``stretch`` times its length; circular."""
    if stretch == 1:
        return values
    places = np.arange(len(values) * stretch) / stretch
    return np.asarray(np.interp(places, np.arange(len(values)), values, period=len(values)))


def spectrum(loop: Signal) -> NDArray[np.complex128]:
    """Real spectrum of a loop."""
    return np.asarray(fft.rfft(loop), dtype=np.complex128)


def unspectrum(values: NDArray[np.complex128], count: int) -> Signal:
    """The loop of ``count`` samples whose spectrum this is."""
    return np.asarray(fft.irfft(values, count), dtype=np.float64)


def shaped(loop: Signal, response: Signal) -> Signal:
    """The loop through a zero-phase filter; circular, so the seam stays closed."""
    return unspectrum(spectrum(loop) * response, len(loop))


def coloured_noise(random: np.random.RandomState, response: Signal, count: int = COUNT) -> Signal:
    """Unit-RMS circular noise whose spectrum follows ``response`` (count // 2 + 1,)."""
    noise = shaped(random.standard_normal(count), response)
    return noise / float(np.sqrt(np.mean(noise**2)))


def add_at(loop: Signal, start: float, piece: Signal) -> None:
    """Add a piece to the loop from ``start`` seconds on, modulo the loop's length."""
    first = round(start * RATE) % len(loop)
    room = len(loop) - first
    loop[first : first + len(piece)] += piece[:room]
    if len(piece) > room:
        loop[: len(piece) - room] += piece[room:]


def a_weight(hz: Signal) -> Signal:
    """Amplitude of the A-weighting curve (IEC 61672), 1 at 1 kHz."""
    f2 = hz**2
    top = 12194.0**2 * f2**2
    base = (f2 + 20.6**2) * np.sqrt((f2 + 107.7**2) * (f2 + 737.9**2)) * (f2 + 12194.0**2)
    return np.asarray(top / base * 10.0**0.1)
