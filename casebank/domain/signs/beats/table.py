"""The table of beats: every event of every beat, in seconds on the loop.

Owns the order of events within a beat. Sounds, pulses, veins and strips all read this one table,
so that signs of one patient agree in time.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from casebank.domain.signs.beats import intervals
from casebank.domain.signs.beats.rhythms import Ask, Order, order_of
from casebank.domain.signs.breathing import Breathing, breathing
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.signal import LENGTH, Flags, Signal
from casebank.domain.signs.spec import Patient, Rhythm

# A2 to P2 in ms, breathed out and in (texts give 0-20 out, 20-60 in; the others are chosen).
SPLITS = {
    "single": (0.0, 0.0), "physiological": (15.0, 45.0), "wide": (55.0, 85.0),
    "fixed": (55.0, 58.0), "reversed": (-45.0, -12.0),
}  # fmt: skip
A2_DELAY = {"reversed": 0.045}

# Change of heart rate with technique: common practice, no source.
RATE_FACTOR = {"standing": 1.12, "squatting": 0.95, "valsalva": 1.2, "handgrip": 1.1}


@dataclass(frozen=True)
class Beats:
    """Times in s of n beats: arrays (n,), save ``atrial`` (m,). ``p`` is nan where none conducts.

    ``stroke`` is 1 for a usual beat; ``volume`` is the lungs' at the beat; ``s1_db`` the first
    sound's loudness by PR or by the preceding interval.
    """

    r: Signal
    p: Signal
    atrial: Signal
    is_wide: Flags
    before: Signal
    after: Signal
    q: Signal
    m1: Signal
    t1: Signal
    ejection: Signal
    a2: Signal
    p2: Signal
    stroke: Signal
    volume: Signal
    s1_db: Signal
    breathing: Breathing

    @property
    def opening(self) -> Signal:
        """When the atrioventricular valves open."""
        return np.asarray(self.a2 + intervals.RELAXATION)

    @property
    def next_m1(self) -> Signal:
        """The first sound of the beat that follows, on the same time line."""
        return np.append(self.m1[1:], self.m1[0] + LENGTH)

    def atrial_before(self) -> Signal:
        """For each beat, the last P in the 0.4 s before R; nan where there is none."""
        if not len(self.atrial):
            return np.full(len(self.r), np.nan)
        gap = np.mod(self.r[:, None] - self.atrial[None, :], LENGTH).min(axis=1)
        return np.where(gap <= 0.4, self.r - gap, np.nan)

    @property
    def has_p_waves(self) -> bool:
        """Whether the atria contract; not in fibrillation or flutter."""
        return len(self.atrial) > 0

    def is_closed(self, seconds: Signal) -> Flags:
        """Whether the atrioventricular valves are shut at these times."""
        since = np.mod(np.asarray(seconds)[:, None] - self.m1[None, :], LENGTH)
        return np.asarray((since < (self.a2 - self.m1)[None, :]).any(axis=1))


def rate_under(patient: Patient, setting: Setting) -> float:
    """Heart rate a minute under this technique."""
    slots = (setting.posture, setting.breathing, setting.effort)
    return patient.rate * float(np.prod([RATE_FACTOR.get(slot, 1.0) for slot in slots]))


def beats(
    patient: Patient,
    rhythm: Rhythm,
    setting: Setting,
    split: str = "physiological",
    *,
    longer: float = 0.0,
    is_even: bool = False,
) -> Beats:
    """The table for this patient under this technique; ``longer`` adds ejection time (s)."""
    moving = breathing(patient.breath_rate, setting.breathing)
    ask = Ask(patient, rhythm, rate_under(patient, setting), moving, is_even)
    return _filled(order_of(ask), ask, split, longer)


REST = 0.03
"""Least seconds from A2 to the next beat: an early beat in fibrillation cuts the one before short.
Our choice, no source."""


def _filled(order: Order, ask: Ask, split: str, longer: float) -> Beats:
    before = np.mod(order.r - np.roll(order.r, 1), LENGTH)
    after = np.roll(before, -1)
    volume = ask.breathing.volume(order.r)
    preejection = intervals.preejection(60 / before, ask.patient.sex)
    q = order.r - 0.040
    m1 = q + preejection - 0.040
    a2, p2 = _second_sound(order, ask, split, q + preejection + longer, before)
    late = np.maximum(a2 - (m1 + after - REST), 0.0)
    a2, p2 = a2 - late, p2 - late
    stroke = _stroke(order, ask, before)
    table = {
        "before": before, "after": after, "volume": volume, "q": q,
        "m1": m1, "t1": q + preejection - 0.015,
        "ejection": q + preejection, "a2": a2, "p2": p2, "stroke": stroke,
    }  # fmt: skip
    s1_db = _first_db(order, before)
    return Beats(
        order.r, order.p, order.atrial, order.is_wide, s1_db=s1_db, breathing=ask.breathing, **table
    )


def _second_sound(
    order: Order, ask: Ask, split: str, ejected: Signal, before: Signal
) -> tuple[Signal, Signal]:
    """A2 and P2: of a widening in inspiration 30 % is an earlier A2, the rest a later P2."""
    ejection = intervals.ejection(60 / before, ask.patient.sex)
    is_early = order.is_wide & (order.is_wide.mean() < 1)
    ejection = np.where(is_early, ejection - 0.060, ejection)
    out, into = (ms / 1000 for ms in SPLITS[split])
    share = np.clip(ask.breathing.volume(ejected + ejection), 0, 1)
    widening = (into - out) * share
    a2 = ejected + ejection - 0.3 * np.abs(widening) + A2_DELAY.get(split, 0.0)
    return np.asarray(a2), np.asarray(a2 + out + widening)


def _stroke(order: Order, ask: Ask, before: Signal) -> Signal:
    """Stroke volume: by filling time in fibrillation, small early beats, a larger one after."""
    if ask.rhythm.name == "atrial-fibrillation":
        filling = 1 - np.exp(-np.maximum(before - 0.30, 0.01) / 0.28)
        return np.asarray(filling / filling.mean())
    is_early = before < 0.75 * np.median(before)
    follows = np.roll(is_early, 1)
    return np.where(is_early, 0.45, np.where(follows, 1.3, 1.0))


def _first_db(order: Order, before: Signal) -> Signal:
    """Loudness of S1 by PR; without P waves louder after a short interval, over 6 dB."""
    if not len(order.atrial):
        spread = before - before.mean()
        return np.asarray(-3 * spread / max(float(np.abs(spread).max()), 0.05))
    gap = np.mod(order.r[:, None] - order.atrial[None, :], LENGTH).min(axis=1)
    return np.where(gap <= 0.4, intervals.first_sound_by_pr(gap), 0.0)
