"""What a renderer hands back: samples, the curves drawn under them, or a picture."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from casebank.domain.signs.signal import Samples, Signal


@dataclass(frozen=True)
class Channel:
    """One curve: samples (n,) at ``rate`` Hz, in ``unit``; ``low``-``high`` fix its scale."""

    label: str
    unit: str
    samples: Signal
    rate: float
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class Mark:
    """Where in a clip something begins, in seconds."""

    start: float
    label: str


@dataclass(frozen=True)
class Rendered:
    """A rendered sign.

    ``samples`` (n,) float32 at ``rate`` Hz: a sound within -1..1, or the main curve in its unit;
    empty for a picture, whose drawing is ``svg``. ``trace``: the curves shown with it.
    ``loops``: whether the end meets the beginning.
    """

    kind: str
    samples: Samples
    rate: int
    trace: tuple[Channel, ...] = ()
    marks: tuple[Mark, ...] = ()
    svg: str = ""
    loops: bool = True
    is_sound: bool = field(default=False)

    @property
    def seconds(self) -> float:
        """Length in seconds; 0 for a picture."""
        return len(self.samples) / self.rate if self.rate else 0.0


def no_samples() -> Samples:
    """The samples of a picture."""
    return np.zeros(0, dtype=np.float32)
