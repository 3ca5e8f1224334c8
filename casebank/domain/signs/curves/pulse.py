"""Arterial pressure at a pulse, from ejected flow through a three-element windkessel.

Owns the named characters. Resistance, compliance and impedance are typical textbook values, from
memory; the shapes are chosen to meet published rates of rise (see the tests).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import fft

from casebank.domain.signs.beats.table import Beats, beats
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.signal import LENGTH, Signal
from casebank.domain.signs.spec import ArterialPulse, Patient, Rhythm

RATE = 500
COUNT = int(RATE * LENGTH)
BACKFLOW_ML = 3.0


@dataclass(frozen=True)
class Vessel:
    """Stroke in ml, humps as (share, peak place), sharpness, resistance, compliance, impedance.

    ``runoff`` ml leak back in each diastole; ``longer`` s of ejection.
    """

    stroke: float = 72.0
    humps: tuple[tuple[float, float], ...] = ((1.0, 0.25),)
    sharpness: float = 3.2
    resistance: float = 1.05
    compliance: float = 1.5
    impedance: float = 0.07
    runoff: float = 0.0
    longer: float = 0.0


VESSELS = {
    "normal": Vessel(),
    "slow-rising": Vessel(60, ((1.0, 0.62),), resistance=1.25, longer=0.028),
    "collapsing": Vessel(135, ((1.0, 0.17),), resistance=0.85, runoff=55),
    "bisferiens": Vessel(
        95, ((0.5, 0.18), (0.5, 0.62)), 14.0, 0.95, compliance=1.2, impedance=0.09, runoff=15
    ),
    "alternans": Vessel(),
    "paradoxus": Vessel(64),
    "small": Vessel(38, resistance=1.75),
}
DELAY = {"carotid": 0.0185, "brachial": 0.055, "radial": 0.090, "femoral": 0.080}
ALTERNANS = (1.2, 0.6)
FALL = {"paradoxus": 0.50}
"""Fall of stroke with a full breath in; 0.05 in health."""


def beats_for(
    patient: Patient, rhythm: Rhythm, setting: Setting, character: str = "normal"
) -> Beats:
    """The table of beats behind a pulse of this character."""
    longer = VESSELS[character].longer
    return beats(patient, rhythm, setting, longer=longer, is_even=character == "alternans")


def strokes(table: Beats, character: str) -> Signal:
    """Each beat's stroke in ml."""
    fall = FALL.get(character, 0.05)
    sizes = table.stroke * (1 - fall * np.clip(table.volume, 0, 1) / 0.6)
    if character == "alternans":
        sizes = sizes * np.resize(np.array(ALTERNANS), len(sizes))
    return np.asarray(VESSELS[character].stroke * np.maximum(sizes, 0.05))


def _hump(count: int, peak: float, sharpness: float) -> Signal:
    tau = (np.arange(count) + 0.5) / count
    rise, fall = sharpness * peak, sharpness * (1 - peak)
    shape = (tau / peak) ** rise * ((1 - tau) / (1 - peak)) ** fall
    return np.asarray(shape / shape.sum())


def _ejected(vessel: Vessel, count: int) -> Signal:
    return np.asarray(
        sum(share * _hump(count, peak, vessel.sharpness) for share, peak in vessel.humps)
    )


def _pour(loop: Signal, start: float, ml: Signal) -> None:
    places = (round(start * RATE) + np.arange(len(ml))) % COUNT
    np.add.at(loop, places, ml * RATE)


def flow(table: Beats, character: str) -> Signal:
    """Aortic flow in ml/s on the loop."""
    vessel, loop = VESSELS[character], np.zeros(COUNT)
    closing = np.hanning(int(0.04 * RATE))
    for start, end, after, ml in zip(
        table.ejection, table.a2, table.ejection + table.after, strokes(table, character),
        strict=True,
    ):  # fmt: skip
        _pour(loop, start, ml * _ejected(vessel, max(int((end - start) * RATE), 8)))
        _pour(loop, end - 0.015, -BACKFLOW_ML * closing / closing.sum())
        if vessel.runoff:
            count = max(int((after - end) * RATE), 8)
            leak = np.exp(-2.0 * np.arange(count) / count)
            _pour(loop, end, -vessel.runoff * leak / leak.sum())
    return loop


def aortic(table: Beats, character: str, rate: float) -> Signal:
    """Aortic pressure in mmHg: the periodic steady state, one transform.

    Resistance falls as rate rises, so that mean pressure holds, as reflexes keep it.
    """
    vessel = VESSELS[character]
    omega = 2 * np.pi * fft.rfftfreq(COUNT, 1 / RATE)
    resistance = vessel.resistance * 72 / rate
    load = vessel.impedance + resistance / (1 + 1j * omega * resistance * vessel.compliance)
    return np.asarray(fft.irfft(fft.rfft(flow(table, character)) * load, COUNT), dtype=np.float64)


def _at_artery(pressure: Signal, artery: str, late: float) -> Signal:
    hz = fft.rfftfreq(COUNT, 1 / RATE)
    travel = np.exp(-2j * np.pi * hz * (DELAY[artery] + late))
    if artery in ("radial", "brachial"):
        quality = 1.35 if artery == "radial" else 1.1
        travel = travel / (1 - (hz / 6) ** 2 + 1j * hz / (6 * quality))
    travel = travel / (1 + 1j * hz / 18)
    if late:
        travel = travel / (1 + 1j * hz / 2.5)
    return np.asarray(fft.irfft(fft.rfft(pressure) * travel, COUNT), dtype=np.float64)


def pulse(spec: ArterialPulse, setting: Setting) -> tuple[Signal, Beats]:
    """Pressure in mmHg (COUNT,) at ``RATE`` Hz at the artery, and the beats behind it."""
    table = beats_for(spec.patient, spec.rhythm, setting, spec.character)
    rate = 60 * len(table.r) / LENGTH
    late = spec.femoral_delay_ms / 1000 if spec.artery == "femoral" else 0.0
    return _at_artery(aortic(table, spec.character, rate), spec.artery, late), table
