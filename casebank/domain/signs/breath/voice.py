"""The patient's voice through the chest: "ninety-nine", spoken or whispered.

Owns a plain voice (pulses or breath noise through formants) and what each kind of lung lets
through. Formants are common values of phonetics, from memory; transmission is chosen.
"""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.signal import (
    COUNT,
    LENGTH,
    RATE,
    Signal,
    add_at,
    coloured_noise,
    frequencies,
    gain,
    shaped,
    stream,
    times,
)
from casebank.domain.signs.spec import Patient

FORMANTS = {"ai": (720.0, 1300.0, 2500.0), "ee": (310.0, 2200.0, 2900.0)}
WORD = (("ai", 0.0, 0.36), ("ee", 0.38, 0.20), ("ai", 0.60, 0.42))
"""Vowel, start and length in s of each syllable."""

REPEATS = 6
PITCH = {"male": 112.0, "female": 204.0}
VOICE_DB = {"usual": -2.0, "increased": 6.0, "bleating": 4.0, "reduced": -16.0, "absent": -50.0}


def voice_loop(patient: Patient, says: str, quality: str, place: str, stretch: int = 1) -> Signal:
    """The voice over this place as a loop, loudness in the unit of breath sounds.

    ``stretch``: how many times longer each word is drawn out, at its own pitch.
    """
    spoken = says == "spoken"
    source = _pulses(patient, stretch) if spoken else _whisper(patient, place, stretch)
    loop = np.zeros(COUNT * stretch)
    for vowel in ("ai", "ee"):
        loop += shaped(source, _formants(vowel, len(loop))) * _syllables(vowel, stretch)
    loop *= 1 / max(float(np.sqrt(np.mean(loop**2))), 1e-9)
    level = VOICE_DB[quality] + (0 if spoken else _whisper_db(quality))
    return _bleated(shaped(loop, through(quality, len(loop))), quality) * gain(level)


def through(quality: str, count: int = COUNT) -> Signal:
    """What this lung lets through: air muffles, solid lung does not, fluid's edge bleats."""
    hz = frequencies(count)
    if quality == "increased":
        return np.asarray(1 / np.sqrt(1 + (hz / 2400) ** 4))
    if quality == "bleating":
        octaves = np.log2(np.maximum(hz, 1) / 800) / 0.55
        return np.asarray(1.8 * np.exp(-0.5 * octaves**2))
    return np.asarray(1 / np.sqrt(1 + (hz / 190) ** 6))


def _whisper_db(quality: str) -> float:
    return -6.0 if quality in ("increased", "bleating") else -26.0


def _bleated(loop: Signal, quality: str) -> Signal:
    if quality != "bleating":
        return loop
    seconds = times(len(loop))
    turns = round(9 * len(loop) / RATE) / (len(loop) / RATE)
    return np.asarray(loop * (1 + 0.6 * np.sin(2 * np.pi * turns * seconds)))


def _pulses(patient: Patient, stretch: int) -> Signal:
    loop = np.zeros(COUNT * stretch)
    count = round(PITCH[patient.sex] * LENGTH * stretch)
    wander = stream(patient.seed, "pitch").uniform(-0.0002, 0.0002, count)
    starts = np.arange(count) * LENGTH * stretch / count + wander
    loop[np.round(starts * RATE).astype(int) % len(loop)] = 1.0
    return shaped(loop, 1 / (1 + (frequencies(len(loop)) / 500) ** 1.5))


def _whisper(patient: Patient, place: str, stretch: int) -> Signal:
    hz = frequencies(COUNT * stretch)
    return coloured_noise(
        stream(patient.seed, f"whisper:{place}"), hz / (hz + 800), COUNT * stretch
    )


def _formants(vowel: str, count: int) -> Signal:
    hz = frequencies(count)
    response = np.zeros_like(hz)
    for order, centre in enumerate(FORMANTS[vowel]):
        response += 0.6**order / (1 + ((hz - centre) / (50 + 30 * order)) ** 2)
    return response + 0.5 / (1 + (hz / 260) ** 4)


def _syllables(vowel: str, stretch: int) -> Signal:
    shape = np.zeros(COUNT * stretch)
    for repeat in range(REPEATS):
        for said, start, length in WORD:
            if said == vowel:
                begin = (repeat + 0.25) * LENGTH / REPEATS + start
                add_at(shape, begin * stretch, np.hanning(int(length * stretch * RATE)) ** 0.5)
    return shape
