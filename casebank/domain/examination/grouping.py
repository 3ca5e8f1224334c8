"""Divides a sentence into requests: neighbouring segments that together ask for one step."""

from __future__ import annotations

from collections.abc import Callable, Sequence

LONGEST = 5
"""Most segments in one request."""
SPLIT_COST = 0.5
"""What a further request must gain to be worth assuming, in units of word weight."""
TORN_COST = 1.5
"""What cutting through a set phrase (*left and right*) costs besides."""

Worth = Callable[[range], tuple[float, float]]
"""Score (0-1.1, lower where the reading is in doubt) and weight of the words of some segments."""


def divide(
    segments: Sequence[int], worth: Worth, tied: frozenset[int] = frozenset()
) -> list[range]:
    """The division into ranges of segments that is worth most; the fewest requests on a tie.

    ``tied`` are segments that a set phrase ties to the one before.
    """
    if len(segments) <= 1:
        return [range(segments[0], segments[0] + 1)] if segments else []
    best: list[tuple[float, list[range]]] = [(0.0, [])]
    for end in range(1, len(segments) + 1):
        options = [
            _extended(best[start], range(segments[start], segments[end - 1] + 1), worth, tied)
            for start in range(max(0, end - LONGEST), end)
        ]
        best.append(max(options, key=lambda option: (round(option[0], 9), -len(option[1]))))
    return best[-1][1]


def _extended(
    before: tuple[float, list[range]], group: range, worth: Worth, tied: frozenset[int]
) -> tuple[float, list[range]]:
    score, weight = worth(group)
    value = weight * score**2
    cost = SPLIT_COST if before[1] and weight else 0.0
    cost += TORN_COST if before[1] and group.start in tied else 0.0
    return before[0] + value - cost, [*before[1], group]
