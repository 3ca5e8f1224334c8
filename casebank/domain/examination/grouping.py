"""Divides a sentence into requests: neighbouring segments that together ask for one step."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from casebank.domain.examination.lexicon import VERBS
from casebank.domain.examination.tokens import COMMA, JOINS, THEN, Reading

LONGEST = 5
"""Most segments in one request."""
LIST_COST, SPLIT_COST, LOOSE_COST = 0.4, 0.7, 1.2
"""What a further request must gain to be worth assuming, in units of word weight: in a list with
commas, where *and*, *then* or a verb of its own begins it, and where a mere comma or stop does."""
NAMES_COST = -0.05
"""The same between two whole names: they are rather two than one."""
TORN_COST = 1.5
"""What cutting through a set phrase (*left and right*) costs besides."""

Worth = Callable[[range], tuple[float, float]]
"""Score (0-1.1, lower where the reading is in doubt) and weight of the words of some segments."""


def costs(reading: Reading, tied: frozenset[int] = frozenset()) -> list[float]:
    """What it costs to begin a request at each segment of the reading.

    ``tied`` are segments that a set phrase ties to the one before.
    """
    begun = {token.segment for token in reading.tokens if token.key in VERBS}
    listed = _listed(reading.breaks)

    def price(segment: int, kind: str) -> float:
        if segment in listed:
            return LIST_COST
        return SPLIT_COST if kind in (*JOINS, THEN) or segment in begun else LOOSE_COST

    return [
        price(segment, kind) + (TORN_COST if segment in tied else 0.0)
        for segment, kind in enumerate(reading.breaks)
    ]


def _listed(breaks: Sequence[str]) -> set[int]:
    """Second and later segments of a list: *nausea, vomiting or diarrhoea*."""
    found: set[int] = set()
    for segment in range(len(breaks) - 2, 0, -1):
        ends = breaks[segment + 1] in JOINS or segment + 1 in found
        if breaks[segment] == COMMA and ends:
            found |= {segment, segment + 1}
    return found


def divide(
    segments: Sequence[int],
    worth: Worth,
    cost: Sequence[float],
    are_names: Callable[[range, range], bool] = lambda _, __: False,
) -> list[range]:
    """The division into ranges of segments that is worth most; the fewest requests on a tie.

    ``cost`` gives for each segment what beginning a further request there must gain; between two
    whole names (*pulse and BP*, as told by ``are_names``) it costs nothing.
    """
    if len(segments) <= 1:
        return [range(segments[0], segments[0] + 1)] if segments else []
    best: list[tuple[float, list[range]]] = [(0.0, [])]
    for end in range(1, len(segments) + 1):
        options = []
        for start in range(max(0, end - LONGEST), end):
            group = range(segments[start], segments[end - 1] + 1)
            before = best[start]
            is_cheap = bool(before[1]) and are_names(before[1][-1], group)
            price = NAMES_COST if is_cheap else cost[group.start]
            options.append(_extended(before, group, worth, price))
        best.append(max(options, key=lambda option: (round(option[0], 9), -len(option[1]))))
    return best[-1][1]


def _extended(
    before: tuple[float, list[range]], group: range, worth: Worth, cost: float
) -> tuple[float, list[range]]:
    score, weight = worth(group)
    value = weight * score**2
    paid = cost if before[1] and weight else 0.0
    return before[0] + value - paid, [*before[1], group]
