"""Calibration: how often what was said with a given confidence was so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from casebank.domain.evidence.scoring import binary_forecasts
from casebank.domain.psychometrics.proportion import wilson


@dataclass(frozen=True)
class CalibrationBin:
    """Forecasts in [low, high): their mean, the observed rate and its Wilson 95 % interval."""

    low: float
    high: float
    count: int
    mean_forecast: float
    observed: float
    ci_low: float
    ci_high: float


def calibration_bins(
    p: ArrayLike, y: ArrayLike, edges: int | Sequence[float] = 5
) -> tuple[CalibrationBin, ...]:
    """Reliability diagram of forecasts of one event; bins in which nobody forecast are left out.

    Parameters
    ----------
    p, y : array_like, shape (N,)
        Stated probabilities, and 1 where it was so, 0 where not.
    edges : int or sequence of float
        A number of equal bins, or rising edges from 0 to 1. The last bin includes 1.
    """
    stated, came_true = binary_forecasts(p, y)
    limits = _limits(edges)
    place = np.clip(np.searchsorted(limits, stated, side="right") - 1, 0, limits.size - 2)
    found = []
    for i in np.unique(place):
        inside = place == i
        count, hits = int(inside.sum()), int(came_true[inside].sum())
        low, high = wilson(hits, count)
        mean = float(stated[inside].mean())
        span = (float(limits[i]), float(limits[i + 1]))
        found.append(CalibrationBin(*span, count, mean, hits / count, low, high))
    return tuple(found)


def _limits(edges: int | Sequence[float]) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    if isinstance(edges, int):
        if edges < 1:
            raise ValueError("give at least one bin.")
        return np.arange(edges + 1) / edges
    limits = np.asarray(edges, dtype=np.float64)
    if limits.size < 2 or limits[0] != 0 or limits[-1] != 1 or (np.diff(limits) <= 0).any():
        raise ValueError("edges must rise from 0 to 1.")
    return limits
