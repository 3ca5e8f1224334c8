"""Traces one under another on one time axis: what is shown beneath a sound or with a pulse.

Owns layout. A sound is drawn whole, at a size of its own, so that a cursor can run along it. It is
drawn through a 120 Hz high-pass, and says so: raw, a murmur 30 dB below the first sound would not
be seen at all.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from casebank.domain.signs.drawing.svg import document, element, envelope_path, line_path, text
from casebank.domain.signs.rendered import Channel, Mark, Rendered
from casebank.domain.signs.signal import Signal, frequencies, shaped

LEFT, ROW, GAP, TOP, PLACES = 20, 130, 34, 30, 24
SECONDS, WIDTH = 6.0, 1200
"""Of curves without a sound: they repeat, and fit where they are put."""
PER_SECOND, PIXELS = 150, 0.8
"""Of a sound: units of a second, pixels of a unit."""
HIGH_PASS_HZ = 120.0
SOUND_LABEL = "Sound, medium frequencies (above 120 Hz)"
LABEL_EVERY = 5.0
"""Seconds after which a sound's labels are said again, for who sees a part of it."""


@dataclass(frozen=True)
class Axis:
    """The time axis: its seconds, and the width they take."""

    seconds: float
    width: int
    label_every: float

    def x(self, second: float) -> float:
        """Where a second stands."""
        return LEFT + second / self.seconds * self.width

    def labels(self, words: str, y: float) -> str:
        """The words, as often as they are needed."""
        starts = np.arange(0, self.seconds, self.label_every)
        return "".join(text(words, self.x(float(start)), y) for start in starts)


def high_passed(samples: Signal) -> Signal:
    """The sound above 120 Hz, peak 1; circular, fourth order."""
    steep = (frequencies(len(samples)) / HIGH_PASS_HZ) ** 4
    bright = shaped(samples, steep / (1 + steep))
    return np.asarray(bright / max(float(np.abs(bright).max()), 1e-9))


def traced(shown: Rendered, title: str) -> str:
    """A whole sound, or the first six seconds of curves, its own trace on top."""
    axis = _axis_of(shown)
    rows = [_sound_row(shown, axis)] if shown.is_sound else []
    start = TOP + len(rows) * (ROW + GAP)
    for index, channel in enumerate(shown.trace):
        rows.append(_curve_row(channel, axis, start + index * (ROW + GAP)))
    bottom = TOP + len(rows) * (ROW + GAP)
    rows += [_time_axis(axis, bottom), _places(shown.marks, axis, bottom + 26 + PLACES)]
    height = bottom + 40 + (PLACES if shown.marks else 0)
    pixels = PIXELS if shown.is_sound else 0
    describes = f"Traces on one time axis, {axis.seconds:g} seconds."
    return document(axis.width + 2 * LEFT, height, title, describes, *rows, pixels=pixels)


def _axis_of(shown: Rendered) -> Axis:
    if shown.is_sound:
        return Axis(shown.seconds, round(shown.seconds * PER_SECOND), LABEL_EVERY)
    return Axis(min(SECONDS, shown.seconds), WIDTH, SECONDS)


def _sound_row(shown: Rendered, axis: Axis) -> str:
    bright = high_passed(shown.samples.astype(np.float64))
    path = envelope_path(bright, LEFT, axis.width, TOP + ROW / 2, ROW / 2)
    return axis.labels(SOUND_LABEL, TOP - 10) + element("path", css="sign__sound", d=path)


def _curve_row(channel: Channel, axis: Axis, top: float) -> str:
    count = min(round(axis.seconds * channel.rate), len(channel.samples))
    values = channel.samples[:count]
    low = float(values.min()) if channel.low is None else channel.low
    high = float(values.max()) if channel.high is None else channel.high
    keep = max(1, count // WIDTH)
    x = LEFT + np.arange(0, count, keep) / count * axis.width
    share = (values[::keep] - low) / max(high - low, 1e-9)
    path = line_path(x, top + ROW - np.clip(share, -0.05, 1.05) * ROW)
    name = channel.label + (f", {channel.unit}" if channel.unit else "")
    return axis.labels(name, top - 10) + element("path", css="sign__trace", d=path)


def _time_axis(axis: Axis, top: float) -> str:
    ticks = range(int(axis.seconds) + 1)
    marks = "".join(f"M{axis.x(tick):.1f} {top}v8" for tick in ticks)
    line = element("path", css="sign__axis", d=f"M{LEFT} {top}H{LEFT + axis.width}{marks}")
    words = [
        text(f"{tick} s", axis.x(tick), top + 26, text_anchor="middle" if tick else "start")
        for tick in ticks
    ]
    return line + "".join(words)


def _places(marks: tuple[Mark, ...], axis: Axis, top: float) -> str:
    """Where the stethoscope is put from when on, where it is moved."""
    return "".join(text(mark.label, axis.x(mark.start), top) for mark in marks)
