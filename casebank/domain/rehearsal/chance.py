"""The one curve by which simulated learners succeed or fail."""

from __future__ import annotations

import numpy as np


def logistic(x: float) -> float:
    """The chance of success at ``x`` logits above the difficulty."""
    return float(1 / (1 + np.exp(-x)))
