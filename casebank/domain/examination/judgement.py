"""Weighs many small traits of a reading into one chance, by weights learned from phrasings.

Owns the sum only. What the traits are is ``keeping``'s and ``trusting``'s; how the weights were
learned stands in ``weights``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

BIAS = "bias"


def chance(traits: Mapping[str, float], weights: Mapping[str, float]) -> float:
    """The chance, 0-1, that the weights give to a reading of these traits: logistic regression.

    A trait without a weight counts nothing.
    """
    return 1 / (1 + math.exp(-max(-30.0, min(30.0, total(traits, weights)))))


def total(traits: Mapping[str, float], weights: Mapping[str, float]) -> float:
    """The log odds that the weights give: the bias, if any, and each trait's share."""
    found = weights.get(BIAS, 0.0)
    for name, value in traits.items():
        if value:
            found += value * weights.get(name, 0.0)
    return found
