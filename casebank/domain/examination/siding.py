"""Which side is meant where left and right are both said: one is often but a reason, a comparison,
the examiner's own hand or what was done before.

Each side said is judged by the words about it and about the other one, and by what its part of the
text says for the step; the weights were learned from phrasings. Where the judgement is not clear
the student is asked.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from casebank.domain.examination.choosing import Grounds
from casebank.domain.examination.judgement import chance
from casebank.domain.examination.lexicon import OTHER_SIDE, VERBS, tells
from casebank.domain.examination.phrases import Match, Value
from casebank.domain.examination.stems import keys_in
from casebank.domain.examination.technique import claimed_sides, without_corrected
from casebank.domain.examination.tokens import KINDS, Reading, Token
from casebank.domain.examination.weights import SIDE

BOTH = frozenset({"left", "right"})
SURE_SIDE = 0.7
"""Least chance with which a side is taken where both are said."""
BEFORE, AFTER, FARTHEST = 3, 4, 12
"""So many words about a side are looked at for cues; sides farther apart are alike."""


CUES: Mapping[str, frozenset[str]] = {
    "past": keys_in("was were had did been already yesterday ago earlier last before once went"),
    "state": keys_in("is are has have still"),
    "reason": keys_in("because as since for due though although while given"),
    "so": keys_in("so hence therefore instead rather but"),
    "not": keys_in("not no leave skip avoid without never except spare cannot"),
    "only": keys_in("only just"),
    "compare": keys_in("than compare versus vs against like control fellow same too also"),
    "turned": keys_in("roll lie turn onto face chin hug stand tilt"),
    "harmed": keys_in(
        "fine scar plaster cast bandage missing amputate amputation graft fistula mastectomy "
        "stitch operate replace fuse dead pain stroke bleed weak weakness numb dressing cannula "
        "splint drip line lump boot heal gone normal fracture broken"
    ),
    "wanted": keys_in("want begin check test look feel listen show do take measure tap press"),
    "then": keys_in("then next after"),
    "own": keys_in("my mine i"),
}
"""Words that tell how a side is spoken of."""


@dataclass(frozen=True)
class Meant:
    """The sides that are meant, of left and right, and the chance, 0-1, that they are. It is sure
    from ``SURE_SIDE`` on, and where it is the one that was named beside *the other one*."""

    sides: frozenset[str]
    chance: float
    is_sure: bool

    @property
    def value(self) -> str:
        """The value of the slot; empty where no side is meant."""
        return "both" if self.sides == BOTH else next(iter(self.sides), "")


def sides_said(
    reading: Reading, matches: Iterable[Match], takes: frozenset[Value]
) -> tuple[Match, ...]:
    """The sides in order, among ``matches`` (longest first), that a step taking ``takes`` was told;
    where but one is said, *the other one* is the side left over."""
    values = without_overlap(match for match in matches if match.value in takes or _is_side(match))
    found = without_corrected([match for match in values if _is_side(match)], reading)
    claimed = claimed_sides(reading)
    found = [match for match in found if claimed.isdisjoint(match.places)]
    used = {place for match in found for place in match.places}
    named = {match.value[1] for match in found}
    if len(named) == 1 and named < BOTH:
        (left_over,) = BOTH - named
        others = [n for n, token in enumerate(reading.tokens) if token.key in OTHER_SIDE]
        found += [Match(("side", left_over), (n,), 0.0) for n in others if n not in used]
    return tuple(sorted(found, key=lambda match: match.places))


def without_overlap(matches: Iterable[Match]) -> list[Match]:
    """The values among ``matches`` (longest first), no word twice."""
    used: set[int] = set()
    found = []
    for match in matches:
        if used.isdisjoint(match.places):
            used.update(match.places)
            found.append(match)
    return found


def _is_side(match: Match) -> bool:
    return match.slot == "side"


def are_both_said(said: Sequence[Match]) -> bool:
    """Whether left is said, and right apart from it."""
    return {match.value[1] for match in said} >= BOTH


def meant(reading: Reading, said: Sequence[Match], step: int, grounds: Grounds) -> Meant:
    """The likeliest sides of a request for the step of that number, where both are said."""
    heard, likely = Heard(reading, step, grounds), dict.fromkeys(BOTH, 0.0)
    for match in said:
        side = match.value[1]
        if side in BOTH:
            found = chance(traits(match, said, heard), SIDE)
            likely[side] = max(likely[side], found)
    sides = frozenset(side for side, found in likely.items() if found >= 0.5)
    sure = math.prod(max(found, 1 - found) for found in likely.values())
    named = {match.value[1] for match in said if match.weight}
    return Meant(sides, sure, sure >= SURE_SIDE or (named != BOTH and sides == named))


def traits(match: Match, said: Sequence[Match], heard: Heard) -> Mapping[str, float]:
    """Name and value of each trait of one side said, beside the nearest word for the other one."""
    place = match.places[0]
    others = [one for one in said if one.value[1] in BOTH - {match.value[1]}]
    other = min(others, key=lambda one: abs(one.places[0] - place), default=None)
    found = dict(_of_one("", match, heard))
    found["times"] = sum(one.value == match.value for one in said)
    found["other times"] = len(others)
    if other:
        found.update(_of_one("other: ", other, heard))
        found.update(_between(match, other, heard))
    is_first = other is not None and place < other.places[0]
    first = {f"first, {name}": value for name, value in found.items()} if is_first else {}
    return {name: float(value) for name, value in {**found, **first}.items()}


class Heard:
    """A reading with what each of its parts says for the step."""

    def __init__(self, reading: Reading, step: int, grounds: Grounds) -> None:
        self.reading = reading
        self.tokens = reading.tokens
        self.parts: dict[int, list[Token]] = {}
        for token in reading.tokens:
            self.parts.setdefault(token.segment, []).append(token)
        self.worth = {
            segment: float(grounds.weights.of([token.key for token in tokens])[step])
            for segment, tokens in self.parts.items()
        }

    def segment(self, match: Match) -> int:
        """The segment in which a match begins."""
        return self.tokens[match.places[0]].segment

    def keys(self, first: int, end: int) -> set[str]:
        """The keys of a run of tokens."""
        return {token.key for token in self.tokens[max(0, first) : max(0, end)]}


def _of_one(name: str, match: Match, heard: Heard) -> Iterator[tuple[str, float]]:
    segment, first, last = heard.segment(match), match.places[0], match.places[-1]
    part = {token.key for token in heard.parts[segment]}
    yield from _cues(f"{name}in part: ", part)
    yield from _cues(f"{name}before: ", heard.keys(first - BEFORE, first))
    yield from _cues(f"{name}after: ", heard.keys(last + 1, last + 1 + AFTER))
    yield f"{name}is other", heard.tokens[first].key in OTHER_SIDE
    yield f"{name}heard", heard.worth[segment]
    yield f"{name}heard: gap", heard.worth[segment] - max(heard.worth.values())
    yield f"{name}verb", not VERBS.keys().isdisjoint(part)
    yield f"{name}telling", min(6, sum(map(tells, part)))
    yield f"{name}begins part", heard.parts[segment][0] is heard.tokens[first]
    yield f"{name}in first part", segment == 0
    yield f"{name}in last part", segment == len(heard.reading.breaks) - 1
    for kind in KINDS:
        yield f"{name}after {kind}", heard.reading.breaks[segment] == kind


def _between(match: Match, other: Match, heard: Heard) -> Iterator[tuple[str, float]]:
    first, second = sorted((match, other), key=lambda one: one.places)
    low, high = heard.segment(first), heard.segment(second)
    keys = heard.keys(first.places[-1] + 1, second.places[0])
    yield "first", match is first
    yield "gap", min(FARTHEST, second.places[0] - first.places[0])
    yield "close", second.places[0] - first.places[-1] <= 2
    yield "one part", low == high
    yield "heard more", heard.worth[heard.segment(match)] - heard.worth[heard.segment(other)]
    yield "between: verb", not VERBS.keys().isdisjoint(keys)
    yield from _cues("between: ", keys)
    for kind in KINDS:
        yield f"between: {kind}", kind in heard.reading.breaks[low + 1 : high + 1]


def _cues(name: str, keys: Collection[str]) -> Iterator[tuple[str, float]]:
    for cue, words in CUES.items():
        yield f"{name}{cue}", not words.isdisjoint(keys)
