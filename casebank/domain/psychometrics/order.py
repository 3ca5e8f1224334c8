"""How far an order of doing agrees with an order wanted; owns no marks.

Bedside orders are partial: only the pairs that the scheme names are judged.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

Step = TypeVar("Step", bound=Hashable)


@dataclass(frozen=True)
class Concordance(Generic[Step]):
    """The required pairs (before, after), sorted by how they were met.

    ``unjudged`` holds the pairs of which a step was never done: that is a matter of coverage.
    """

    respected: tuple[tuple[Step, Step], ...]
    broken: tuple[tuple[Step, Step], ...]
    unjudged: tuple[tuple[Step, Step], ...]

    @property
    def judged(self) -> int:
        """Number of pairs of which both steps were done."""
        return len(self.respected) + len(self.broken)

    @property
    def share(self) -> float | None:
        """Share of judged pairs respected, from 0 to 1; None if no pair could be judged."""
        return len(self.respected) / self.judged if self.judged else None

    @property
    def tau(self) -> float | None:
        """(concordant - discordant) / judged, from -1 to 1: Kendall's tau on required pairs."""
        return None if self.share is None else 2 * self.share - 1


def partial_order_concordance(
    order_done: Sequence[Step], pairs: Iterable[tuple[Step, Step]]
) -> Concordance[Step]:
    """Judge an order of doing against required pairs.

    Parameters
    ----------
    order_done : sequence
        Steps in the order done; of a repeated step the first time counts.
    pairs : iterable of (before, after)
        Precedences wanted; the same pair twice is judged once.

    Raises
    ------
    ValueError
        If a pair asks a step to come before itself.
    """
    first: dict[Step, int] = {}
    for place, step in enumerate(order_done):
        first.setdefault(step, place)
    respected, broken, unjudged = [], [], []
    for before, after in dict.fromkeys(pairs):
        if before == after:
            raise ValueError(f"{before!r} cannot come before itself: name two different steps.")
        if before not in first or after not in first:
            unjudged.append((before, after))
        elif first[before] < first[after]:
            respected.append((before, after))
        else:
            broken.append((before, after))
    return Concordance(tuple(respected), tuple(broken), tuple(unjudged))
