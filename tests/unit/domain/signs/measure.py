"""Measuring rendered signs with scipy alone; nothing here asks the renderer what it did."""

from __future__ import annotations

import numpy as np
from scipy import signal

from casebank.domain.signs import parse, render

RATE = 8000
QUIET = {"noise_db": -80}
STILL = {"breathing": "held-expiration"}


def clip(spec, **technique):
    return render(parse(spec), technique).samples.astype(np.float64)


def heart(**fields):
    return {"kind": "heart-sound", **QUIET, **fields}


def murmur(kind, grade=4, **fields):
    return heart(lesions=[{"type": kind, "grade": grade, **fields}])


def banded(sound, low, high, rate=RATE):
    sections = signal.butter(4, (low, high), "bandpass", fs=rate, output="sos")
    tiled = np.concatenate((sound, sound, sound))
    filtered = signal.sosfiltfilt(sections, tiled)
    return filtered[len(sound) : 2 * len(sound)]


def smooth(values, hz, rate=RATE):
    sections = signal.butter(2, hz, fs=rate, output="sos")
    return signal.sosfiltfilt(sections, values)


def loudness(sound, low, high):
    """Smoothed Hilbert envelope of a band."""
    return np.maximum(smooth(np.abs(signal.hilbert(banded(sound, low, high))), 60), 0)


def r_peaks(patient, rhythm=None, **technique):
    """Times of R in s, from the rendered strip of the same patient, by scipy."""
    spec = {"kind": "rhythm-strip", "patient": patient, "rhythm": rhythm or {}}
    shown = render(parse(spec), technique)
    curve = np.concatenate((shown.samples, shown.samples))
    found, _ = signal.find_peaks(curve, height=0.6 * curve.max(), distance=int(0.25 * shown.rate))
    return np.unique(found % len(shown.samples)) / shown.rate


def window_rms(sound, starts, length):
    """RMS over all windows of ``length`` s, modulo the loop."""
    count = int(length * RATE)
    places = (np.round(np.asarray(starts) * RATE).astype(int)[:, None] + np.arange(count)) % len(
        sound
    )
    return float(np.sqrt(np.mean(sound[places] ** 2)))


def db(ratio):
    return 20 * float(np.log10(ratio))


def centroid(sound, low, high):
    hz, power = signal.welch(sound, RATE, nperseg=min(len(sound), 4096))
    keep = (hz >= low) & (hz <= high)
    return float(np.sum(hz[keep] * power[keep]) / np.sum(power[keep]))
