"""Murmur envelopes: 0-1 over the loop, from the table of beats.

Owns shapes in time. ``y`` of a piece is its loudness at each sample from ``start`` on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from casebank.domain.signs.beats.table import Beats
from casebank.domain.signs.heart.murmurs import SHARE, SNAP_MS, kind_of, peak_of, shape_of
from casebank.domain.signs.signal import COUNT, RATE, Signal
from casebank.domain.signs.spec import Lesion


@dataclass(frozen=True)
class Frame:
    """What an envelope is drawn in: the beats, the click's place, whether atria contract."""

    beats: Beats
    lesion: Lesion
    click: Signal

    @property
    def closing(self) -> Signal:
        """Closure of the valve on the murmur's side."""
        return self.beats.p2 if kind_of(self.lesion).is_right else self.beats.a2

    @property
    def louder(self) -> Signal:
        """Each beat's loudness by its stroke: outflow follows it, regurgitation does not."""
        follows = shape_of(self.lesion) == "ejection"
        return self.beats.stroke if follows else np.ones_like(self.beats.stroke)


Pieces = Iterator[tuple[float, Signal]]


def envelope(frame: Frame) -> Signal:
    """The murmur's envelope on the loop."""
    loop = np.zeros(COUNT)
    for start, piece in SHAPES[shape_of(frame.lesion)](frame):
        _raise_to(loop, start, piece)
    return loop


def _raise_to(loop: Signal, start: float, piece: Signal) -> None:
    places = (round(start * RATE) + np.arange(len(piece))) % COUNT
    loop[places] = np.maximum(loop[places], piece)


def _span(start: float, end: float) -> Signal:
    return np.linspace(0, 1, max(int((end - start) * RATE), 2))


def _edges(y: Signal, ms: float = 18.0) -> Signal:
    width = min(int(ms / 1000 * RATE), len(y) // 2)
    ramp = 0.5 - 0.5 * np.cos(np.pi * np.arange(width) / max(width, 1))
    y[:width] *= ramp
    y[len(y) - width :] *= ramp[::-1]
    return y


def _ejection(frame: Frame) -> Pieces:
    p, k = peak_of(frame.lesion), 4.0
    ends = frame.closing - 0.012
    for start, end, stroke in zip(frame.beats.ejection, ends, frame.louder, strict=True):
        tau = _span(start, end)
        yield start, stroke * (tau / p) ** (k * p) * ((1 - tau) / (1 - p)) ** (k * (1 - p))


def _pansystolic(frame: Frame) -> Pieces:
    starts, ends = frame.beats.m1 + 0.005, frame.closing + 0.030
    for start, end in zip(starts, ends, strict=True):
        yield start, _edges(1 - 0.12 * _span(start, end))


def _late_systolic(frame: Frame) -> Pieces:
    for start, end in zip(frame.click, frame.beats.a2 + 0.020, strict=True):
        yield start, _edges(0.35 + 0.65 * _span(start, end), 12)


def _early_diastolic(frame: Frame) -> Pieces:
    share = SHARE[frame.lesion.severity]
    for start, end in zip(frame.closing, frame.beats.next_m1, strict=True):
        length = share * max(end - start, 0.12)
        tau = _span(0, length)
        rise = 1 - np.exp(-tau * length / 0.018 * 2)
        yield start, _edges(rise * np.exp(-tau / 0.38), 8)


def _rumble(frame: Frame) -> Pieces:
    yield from _rumble_filling(frame)
    if frame.lesion.presystolic:
        yield from _rumble_presystolic(frame)


def _rumble_filling(frame: Frame) -> Pieces:
    delay = SNAP_MS[frame.lesion.severity] / 1000 + 0.020
    share = SHARE[frame.lesion.severity]
    for start, end in zip(frame.closing + delay, frame.beats.next_m1, strict=True):
        length = share * (end - start)
        if length > 0.04:
            yield start, _edges(1 - 0.45 * _span(0, length), 25)


def _rumble_presystolic(frame: Frame) -> Pieces:
    """From atrial contraction to M1; beats without a P before them have none."""
    starts = frame.beats.atrial_before() + 0.070
    for start, end in zip(starts, frame.beats.m1, strict=True):
        if np.isfinite(start) and end - start > 0.02:
            yield start, 0.5 + 0.7 * _span(start, end) ** 1.5


def _continuous(frame: Frame) -> Pieces:
    """Rises through systole, peaks at the second sound, never silent."""
    beats = frame.beats
    for start, middle, end in zip(beats.m1, beats.a2, beats.next_m1, strict=True):
        up = 0.3 + 0.7 * _span(start, middle) ** 1.2
        down = 0.3 + 0.7 * np.exp(-_span(middle, end) / 0.45)
        yield start, np.concatenate((up, down))


SHAPES: dict[str, Callable[[Frame], Pieces]] = {
    "ejection": _ejection,
    "pansystolic": _pansystolic,
    "late-systolic": _late_systolic,
    "early-diastolic": _early_diastolic,
    "rumble": _rumble,
    "continuous": _continuous,
}
