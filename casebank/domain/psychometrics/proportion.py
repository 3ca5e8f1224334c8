"""Intervals of proportions: Wilson's for one, Newcombe's for a difference; owns no estimates."""

from __future__ import annotations

import math

Z95 = 1.959963984540054


def wilson(count: float, n: float) -> tuple[float, float]:
    """Wilson's 95 % score interval of ``count`` of ``n`` (fractions allowed), within [0, 1].

    Never Wald's, which has no width at 0 and at n.

    Raises
    ------
    ValueError
        If n is not above 0 or the count lies outside 0..n.
    """
    if not (n > 0 and 0 <= count <= n):
        raise ValueError(f"{count:g} of {n:g} is not a proportion: count within the group.")
    p, z2 = count / n, Z95**2
    centre = (p + z2 / (2 * n)) / (1 + z2 / n)
    half = Z95 / (1 + z2 / n) * math.sqrt(p * (1 - p) / n + z2 / (4 * n * n))
    low = 0.0 if count == 0 else max(0.0, centre - half)
    high = 1.0 if count == n else min(1.0, centre + half)
    return low, high


def newcombe(count: float, n: float, other_count: float, other_n: float) -> tuple[float, float]:
    """Newcombe's hybrid score 95 % interval of a difference of two independent proportions.

    Newcombe, Stat Med 1998, method 10.
    """
    p, q = count / n, other_count / other_n
    (p_low, p_high), (q_low, q_high) = wilson(count, n), wilson(other_count, other_n)
    low = p - q - math.hypot(p - p_low, q_high - q)
    high = p - q + math.hypot(p_high - p, q - q_low)
    return low, high
