"""Stated probabilities as forecasts, and how good they were over many encounters.

A conclusion is one forecast for every hypothesis of its case and for whatever else was named; what
was not named was given 0. This is how the reasoning mark reads a differential too.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from casebank.domain.evidence import CalibrationBin, Murphy, calibration_bins, murphy

FEWEST_FOR_A_PLOT = 20
FEWEST_TO_TRUST_A_BIN = 100


@dataclass(frozen=True)
class Forecast:
    """A probability stated for one diagnosis, and whether the patient had it."""

    probability: float
    was_so: bool


@dataclass(frozen=True)
class Calibration:
    """Forecasts summed up; ``bins`` stay empty below twenty forecasts.

    ``bias`` is the mean stated minus the share that was so: above 0 is too much belief. ``parts``
    is Murphy's decomposition; ``parts.brier`` is the mean of (p - y)^2, from 0 (best) to 1.
    """

    count: int
    bias: float
    parts: Murphy
    bins: tuple[CalibrationBin, ...]

    @property
    def bias_percent(self) -> str:
        """The bias in per cent with its sign, to one decimal."""
        return f"{100 * self.bias:+.1f}".replace("-", "−")

    @property
    def is_thin(self) -> bool:
        """Whether the bins are too thin to be read one by one."""
        return self.count < FEWEST_TO_TRUST_A_BIN


def forecasts_of(
    hypotheses: Sequence[str], stated: Mapping[str, float], truth: Sequence[str]
) -> tuple[Forecast, ...]:
    """The forecasts of one conclusion."""
    named = dict.fromkeys([*hypotheses, *stated])
    return tuple(Forecast(stated.get(name, 0.0), name in truth) for name in named)


def calibration_of(forecasts: Iterable[Forecast]) -> Calibration | None:
    """All of them together; None where there are none."""
    given = list(forecasts)
    if not given:
        return None
    p = [one.probability for one in given]
    y = [float(one.was_so) for one in given]
    return Calibration(
        count=len(given),
        bias=(sum(p) - sum(y)) / len(given),
        parts=murphy(p, y),
        bins=calibration_bins(p, y) if len(given) >= FEWEST_FOR_A_PLOT else (),
    )
