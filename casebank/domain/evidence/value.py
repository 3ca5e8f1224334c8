"""Value against price: which step adds most to the differential for what it costs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from casebank.domain.evidence.information import expected_information_many


@dataclass(frozen=True)
class Ranked:
    """A step by its position in ``tables``: bits expected, price, bits per unit of price."""

    index: int
    information: float
    price: float
    per_price: float


def most_useful(prior: ArrayLike, tables: ArrayLike, prices: ArrayLike) -> tuple[Ranked, ...]:
    """Steps from most to least expected information per price; of equals the cheaper first.

    Parameters
    ----------
    prior : array_like, shape (H,)
        Probabilities now; they sum to 1.
    tables : array_like, shape (S, O, H)
        P(outcome | hypothesis), padded with rows of zeros.
    prices : array_like, shape (S,)
        Above 0: every step takes time.

    Raises
    ------
    ValueError
        As ``expected_information``, or if a price is missing, zero or negative.
    """
    bits = expected_information_many(prior, tables)
    cost = np.asarray(prices, dtype=np.float64)
    if cost.shape != bits.shape:
        raise ValueError(f"give one price a table: {cost.size} prices for {bits.size} tables.")
    if not (np.isfinite(cost) & (cost > 0)).all():
        raise ValueError("a price is zero, negative or missing: give every step its minutes.")
    rate = bits / cost
    order = np.lexsort((np.arange(cost.size), cost, -rate))
    return tuple(Ranked(int(i), float(bits[i]), float(cost[i]), float(rate[i])) for i in order)
