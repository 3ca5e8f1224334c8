"""When atria and ventricles contract on a loop, for each rhythm.

Owns the order of beats; what each beat does is ``table``. A loop holds a whole number of beats,
so rates are rounded to 4 a minute; dissociated rhythms get coprime counts, or their P waves would
lock to the ventricles.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from casebank.domain.signs.breathing import Breathing
from casebank.domain.signs.signal import LENGTH, Flags, Signal, stream
from casebank.domain.signs.spec import Patient, Rhythm

SHORTEST = 0.32


@dataclass(frozen=True)
class Ask:
    """What a rhythm is made from; ``rate`` already holds the technique's effect."""

    patient: Patient
    rhythm: Rhythm
    rate: float
    breathing: Breathing
    is_even: bool

    @property
    def count(self) -> int:
        """Ventricular beats on the loop."""
        count = max(4, round(self.rate * LENGTH / 60))
        return count + count % 2 if self.is_even else count

    @property
    def pr(self) -> float:
        """PR interval in s."""
        return self.rhythm.pr_ms / 1000


@dataclass(frozen=True)
class Order:
    """R times (n,), the P each came from (n,; nan: none), all P times (m,), wide beats (n,)."""

    r: Signal
    p: Signal
    atrial: Signal
    is_wide: Flags


def order_of(ask: Ask) -> Order:
    """The order of beats of that rhythm."""
    return RHYTHMS[ask.rhythm.name](ask)


def arrhythmia_depth(age: int) -> float:
    """Trough-to-peak swing of sinus rate with breathing, beats a minute: 8.6 at 20, 2 at 75.

    8.6 is the mean of 635 students; its fall with age is chosen here.
    """
    return float(np.interp(age, (20, 75), (8.6, 2.0)))


def swing_of(patient: Patient, rhythm: Rhythm) -> float:
    """Trough-to-peak swing of this patient's sinus rate, breathing quietly."""
    return arrhythmia_depth(patient.age) if rhythm.swing is None else rhythm.swing


def _narrow(r: Signal, p: Signal, atrial: Signal) -> Order:
    return Order(r, p, atrial, np.zeros(len(r), dtype=bool))


def _sinus_times(ask: Ask, count: int) -> Signal:
    fine = np.linspace(0, LENGTH, 3001)
    volume = ask.breathing.volume(fine)
    swing = swing_of(ask.patient, ask.rhythm) * (volume - volume.mean()) / 0.6
    slow = 0.8 * np.sin(2 * np.pi * 2 * fine / LENGTH)
    hertz = np.maximum(ask.rate + swing + slow, 20) / 60
    passed = np.concatenate(([0.0], np.cumsum((hertz[1:] + hertz[:-1]) / 2 * np.diff(fine))))
    turns = np.arange(count) + 0.5
    return np.asarray(np.interp(turns, passed * count / passed[-1], fine))


def _sinus(ask: Ask) -> Order:
    r = _sinus_times(ask, ask.count)
    return _narrow(r, r - ask.pr, r - ask.pr)


def _from_intervals(intervals: Signal) -> Signal:
    return np.asarray(np.cumsum(intervals) - intervals[0] / 2)


def _fibrillation(ask: Ask) -> Order:
    """RR = correlated Gaussian part + exponential tail (Hennig 2006); shortest 320 ms."""
    random = stream(ask.patient.seed, "fibrillation")
    mean = LENGTH / ask.count
    tail = random.exponential(0.24 * mean, ask.count)
    body = mean * (0.76 + 0.09 * random.standard_normal(ask.count))
    intervals = _fitted(np.maximum(body + tail, SHORTEST))
    r = _from_intervals(intervals)
    return _narrow(r, np.full(len(r), np.nan), np.zeros(0))


def _fitted(intervals: Signal) -> Signal:
    """Intervals that fill the loop, none shorter than the shortest."""
    shortest = min(SHORTEST, 0.7 * LENGTH / len(intervals))
    spare = np.maximum(intervals - shortest, 1e-3)
    room = LENGTH - shortest * len(intervals)
    return np.asarray(shortest + spare * room / spare.sum())


def _flutter(ask: Ask) -> Order:
    """A fixed share of about 300 atrial waves a minute is conducted; the atria hardly contract."""
    ratio = max(2, round(300 / ask.rate))
    count = max(4, round(300 * LENGTH / 60 / ratio))
    r = (np.arange(count) + 0.5) * LENGTH / count
    return _narrow(r, np.full(count, np.nan), np.zeros(0))


def _early(ask: Ask) -> tuple[Signal, Flags]:
    """Regular times, and which of them come early."""
    every = ask.rhythm.every
    count = max(every, ask.count - ask.count % every)
    return _sinus_times(ask, count), np.arange(count) % every == every - 1


def _atrial_ectopics(ask: Ask) -> Order:
    r, is_early = _early(ask)
    usual = np.diff(r, append=r[0] + LENGTH)
    before = np.where(is_early, 0.62, np.where(np.roll(is_early, 1), 1.12, 1.0))
    intervals = before * np.roll(usual, 1)
    times = _from_intervals(intervals * LENGTH / intervals.sum())
    return _narrow(times, times - ask.pr, times - ask.pr)


def _ventricular_ectopics(ask: Ask) -> Order:
    """Coupling 0.6 of the interval, full compensatory pause; the sinus P goes on unheard."""
    r, is_early = _early(ask)
    interval = np.mod(r - np.roll(r, 1), LENGTH)
    times = np.where(is_early, r - 0.4 * interval, r)
    return Order(times, np.where(is_early, np.nan, r - ask.pr), r - ask.pr, is_early)


def _pauses(ask: Ask) -> Order:
    """One sinus pause of 2.8 s on the loop."""
    pause = 2.8
    count = max(3, round((LENGTH - pause) * ask.rate / 60))
    intervals = np.full(count + 1, (LENGTH - pause) / count)
    intervals[count // 2] = pause
    r = _from_intervals(intervals)
    return _narrow(r, r - ask.pr, r - ask.pr)


def _dropped(ask: Ask) -> Order:
    """Groups of four P waves: PR lengthens by shrinking steps, then a beat is missing."""
    groups = max(2, round(ask.rate * LENGTH / 60 / 3))
    atrial = (np.arange(groups * 4) + 0.25) * LENGTH / (groups * 4)
    longer = np.array([0.0, 0.10, 0.15])
    conducted = atrial.reshape(groups, 4)[:, :3]
    r = (conducted + ask.pr + longer).ravel()
    return _narrow(r, conducted.ravel(), atrial)


def _two_to_one(ask: Ask) -> Order:
    r = (np.arange(ask.count) + 0.5) * LENGTH / ask.count
    atrial = np.sort(np.concatenate((r, r + LENGTH / ask.count / 2)) - ask.pr)
    return _narrow(r, r - ask.pr, atrial)


def _dissociated(ask: Ask, ventricular: float, atrial_rate: float, is_wide: bool) -> Order:
    count = max(4, round(ventricular * LENGTH / 60))
    atria = round(atrial_rate * LENGTH / 60)
    while math.gcd(atria, count) > 1:
        atria += 1
    r = (np.arange(count) + 0.5) * LENGTH / count
    atrial = (np.arange(atria) + 0.31) * LENGTH / atria
    return Order(r, np.full(count, np.nan), atrial, np.full(count, is_wide))


def _complete_block(ask: Ask) -> Order:
    return _dissociated(ask, ask.rhythm.escape_rate, max(ask.rate, 70), is_wide=True)


def _tachycardia(ask: Ask) -> Order:
    return _dissociated(ask, max(ask.rate, 120), 88, is_wide=True)


RHYTHMS: dict[str, Callable[[Ask], Order]] = {
    "sinus": _sinus,
    "atrial-fibrillation": _fibrillation,
    "atrial-flutter": _flutter,
    "atrial-ectopics": _atrial_ectopics,
    "ventricular-ectopics": _ventricular_ectopics,
    "pauses": _pauses,
    "dropped-beats": _dropped,
    "two-to-one-block": _two_to_one,
    "complete-block": _complete_block,
    "ventricular-tachycardia": _tachycardia,
}
