"""Traces one under another on one time axis: what is shown beneath a sound or with a pulse.

Owns layout. A sound is drawn through a 120 Hz high-pass, and says so: raw, a murmur 30 dB below
the first sound would not be seen at all.
"""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.drawing.svg import document, element, envelope_path, line_path, text
from casebank.domain.signs.rendered import Channel, Rendered
from casebank.domain.signs.signal import Signal, frequencies, shaped

WIDTH, LEFT, ROW, GAP, TOP = 1200, 20, 130, 34, 30
SECONDS = 6.0
HIGH_PASS_HZ = 120.0
SOUND_LABEL = "Sound, medium frequencies (above 120 Hz)"


def high_passed(samples: Signal) -> Signal:
    """The sound above 120 Hz, peak 1; circular, fourth order."""
    steep = (frequencies(len(samples)) / HIGH_PASS_HZ) ** 4
    bright = shaped(samples, steep / (1 + steep))
    return np.asarray(bright / max(float(np.abs(bright).max()), 1e-9))


def traced(shown: Rendered, title: str, describes: str, seconds: float = SECONDS) -> str:
    """The first ``seconds`` of a rendered sign, its own trace on top."""
    seconds = min(seconds, shown.seconds)
    rows = [_sound_row(shown, seconds)] if shown.is_sound else []
    start = TOP + len(rows) * (ROW + GAP)
    for index, channel in enumerate(shown.trace):
        rows.append(_curve_row(channel, seconds, start + index * (ROW + GAP)))
    bottom = TOP + len(rows) * (ROW + GAP)
    axis = _time_axis(seconds, bottom)
    return document(WIDTH + 2 * LEFT, bottom + 40, title, describes, *rows, axis)


def _sound_row(shown: Rendered, seconds: float) -> str:
    bright = high_passed(shown.samples.astype(np.float64))[: int(seconds * shown.rate)]
    path = envelope_path(bright, LEFT, WIDTH, TOP + ROW / 2, ROW / 2)
    return text(SOUND_LABEL, LEFT, TOP - 10) + element("path", css="sign__sound", d=path)


def _curve_row(channel: Channel, seconds: float, top: float) -> str:
    count = int(seconds * channel.rate)
    values = channel.samples[:count]
    low = float(values.min()) if channel.low is None else channel.low
    high = float(values.max()) if channel.high is None else channel.high
    keep = max(1, count // WIDTH)
    x = LEFT + np.arange(0, count, keep) / count * WIDTH
    share = (values[::keep] - low) / max(high - low, 1e-9)
    path = line_path(x, top + ROW - np.clip(share, -0.05, 1.05) * ROW)
    name = channel.label + (f", {channel.unit}" if channel.unit else "")
    return text(name, LEFT, top - 10) + element("path", css="sign__trace", d=path)


def _time_axis(seconds: float, top: float) -> str:
    ticks = range(int(seconds) + 1)
    places = [LEFT + tick / seconds * WIDTH for tick in ticks]
    marks = "".join(f"M{place:.1f} {top}v8" for place in places)
    line = element("path", css="sign__axis", d=f"M{LEFT} {top}H{LEFT + WIDTH}{marks}")
    words = [
        text(f"{tick} s", place, top + 26, text_anchor="middle" if tick else "start")
        for tick, place in zip(ticks, places, strict=True)
    ]
    return line + "".join(words)
