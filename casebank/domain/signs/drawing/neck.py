"""The neck with a ruler on the sternal angle: the column's top over time, read in centimetres.

Owns the drawing of the venous column. Where the neck cannot be seen, nothing is drawn of it: a
column that stands above the jaw or below the collar bone has no top to read.
"""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.drawing.svg import document, element, line_path, text
from casebank.domain.signs.rendered import Channel
from casebank.domain.signs.signal import Signal

WIDTH, LEFT, CM, TOP = 1000.0, 90.0, 22.0, 40.0
SECONDS = 6.0


def neck(
    height: Channel, timing: tuple[Channel, ...], seen: tuple[float, float], words: tuple[str, str]
) -> str:
    """Six seconds of the column between the limits ``seen`` (cm), its timing traces beneath."""
    low, high = int(seen[0]) - 1, int(seen[1]) + 1
    bottom = TOP + (high - low) * CM
    parts = [_ruler(low, high), _limits(seen, low, high), _column(height, seen, high)]
    for index, channel in enumerate(timing):
        parts.append(_timing(channel, bottom + 30 + index * 100))
    total = bottom + 30 + len(timing) * 100
    return document(WIDTH + LEFT + 20, total, words[0], words[1], *parts)


def _y(cm: Signal | float, high: int) -> Signal:
    return np.asarray(TOP + (high - np.asarray(cm)) * CM)


def _ruler(low: int, high: int) -> str:
    marks, labels = [], []
    for cm in range(low, high + 1):
        y = float(_y(cm, high))
        marks.append(f"M{LEFT - (14 if cm % 5 else 24):.0f} {y:.1f}H{LEFT:.0f}")
        if cm % 5 == 0:
            labels.append(text(str(cm), LEFT - 30, y + 5, text_anchor="end"))
    edge = f"M{LEFT:.0f} {float(_y(high, high)):.1f}V{float(_y(low, high)):.1f}"
    name = text("cm above the sternal angle", 8, TOP - 18)
    return element("path", css="sign__ruler", d=edge + "".join(marks)) + "".join(labels) + name


def _limits(seen: tuple[float, float], low: int, high: int) -> str:
    """The jaw above and the collar bone below: what lies beyond is hidden."""
    jaw, clavicle = float(_y(seen[1], high)), float(_y(seen[0], high))
    top, bottom = float(_y(high, high)), float(_y(low, high))
    hidden = [
        element("rect", css="sign__unseen", x=LEFT, y=top, width=WIDTH, height=jaw - top),
        element(
            "rect", css="sign__unseen", x=LEFT, y=clavicle, width=WIDTH, height=bottom - clavicle
        ),
    ]
    names = (
        text("angle of the jaw", LEFT + 8, jaw - 5),
        text("collar bone", LEFT + 8, clavicle + 17),
    )
    return "".join((*hidden, *names))


def _column(height: Channel, seen: tuple[float, float], high: int) -> str:
    values = height.samples[: int(SECONDS * height.rate)]
    x = LEFT + np.arange(len(values)) / len(values) * WIDTH
    is_seen = (values >= seen[0]) & (values <= seen[1])
    runs = np.split(np.arange(len(values)), np.flatnonzero(np.diff(is_seen.astype(int))) + 1)
    y = _y(values, high)
    paths = [line_path(x[run], y[run]) for run in runs if is_seen[run[0]] and len(run) > 1]
    return element("path", css="sign__trace", d="".join(paths)) if paths else ""


def _timing(channel: Channel, top: float) -> str:
    values = channel.samples[: int(SECONDS * channel.rate)]
    keep = max(1, len(values) // 1000)
    x = LEFT + np.arange(0, len(values), keep) / len(values) * WIDTH
    share = (values[::keep] - values.min()) / max(float(np.ptp(values)), 1e-9)
    path = line_path(x, top + 80 - share * 70)
    return text(channel.label, LEFT, top + 4) + element("path", css="sign__trace", d=path)
