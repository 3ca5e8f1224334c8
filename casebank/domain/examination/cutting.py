"""Cuts a text into several requests by what the words of each part say for a step of its own.

Every run of neighbouring segments is heard as if it stood alone; the cut is the one of which the
parts are likeliest to be one request each. Whether it may be relied on, and the text is not one
request with details, is judged by its traits, with weights learned from phrasings.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from casebank.domain.examination.alone import Alone, alone
from casebank.domain.examination.choosing import Grounds
from casebank.domain.examination.judgement import chance
from casebank.domain.examination.kinship import ORDERS
from casebank.domain.examination.lexicon import VERBS, tells
from casebank.domain.examination.model import Method, Step
from casebank.domain.examination.tokens import KINDS, STOP, Reading
from casebank.domain.examination.weights import SEVERAL

MOST_SEGMENTS, LONGEST = 10, 5
"""A text of more segments is not cut in this way; most segments of a part."""
LEAST = 1e-6


@dataclass(frozen=True)
class Part:
    """Segments of a text with the step that they ask for, and the chance that it is all."""

    segments: range
    step: int
    chance: float


@dataclass(frozen=True)
class Cut:
    """A text in two parts or more, and the chance, 0-1, that they are what is asked for."""

    parts: tuple[Part, ...]
    chance: float


def cut(reading: Reading, grounds: Grounds, whole: Alone) -> Cut | None:
    """The likeliest cut of a text whose words together are ``whole``; None where that is one."""
    if not 1 < len(reading.breaks) <= MOST_SEGMENTS:
        return None
    parts = likeliest(reading, grounds, whole)
    if len(parts) < 2:
        return None
    return Cut(parts, chance(traits(parts, reading, grounds, whole), SEVERAL))


def likeliest(reading: Reading, grounds: Grounds, whole: Alone) -> tuple[Part, ...]:
    """The parts whose chances have the largest product; the fewest of equals."""
    best: list[tuple[float, tuple[Part, ...]]] = [(0.0, ())]
    for end in range(1, len(reading.breaks) + 1):
        options = [
            _extended(best[start], _heard(range(start, end), reading, grounds, whole))
            for start in range(max(0, end - LONGEST), end)
        ]
        best.append(max(options, key=lambda option: (option[0], -len(option[1]))))
    return best[-1][1]


def _extended(
    before: tuple[float, tuple[Part, ...]], part: Part | None
) -> tuple[float, tuple[Part, ...]]:
    if part is None:
        return before
    return before[0] + math.log(max(LEAST, part.chance)), (*before[1], part)


def _heard(segments: range, reading: Reading, grounds: Grounds, whole: Alone) -> Part | None:
    """The segments as a text of their own; None where no word stands in them."""
    is_all = len(segments) == len(reading.breaks)
    found = whole if is_all else alone(part_of(reading, segments), grounds)
    return Part(segments, found.step, found.chance) if found else None


def part_of(reading: Reading, segments: range) -> Reading:
    """Some segments of a reading as a reading of their own."""
    inside = [token for token in reading.tokens if token.segment in segments]
    first, end = segments.start, segments.stop
    return replace(
        reading,
        words=tuple(reading.words[number] for token in inside for number in token.words),
        tokens=tuple(token._replace(segment=token.segment - first) for token in inside),
        breaks=(STOP, *reading.breaks[first + 1 : end]),
        marks=("", *reading.marks[first + 1 : end]),
        cut=(),
    )


def traits(
    parts: Sequence[Part], reading: Reading, grounds: Grounds, whole: Alone
) -> Mapping[str, float]:
    """Name and value of each trait of a cut."""
    steps = [grounds.index.entries[part.step].step for part in parts]
    found = (
        _of_chances(parts, whole),
        _of_whole(parts, reading, grounds, whole),
        _of_steps(steps, grounds),
        _of_breaks(parts, reading),
        _of_words(parts, reading),
    )
    return {name: float(value) for each in found for name, value in each}


def _of_chances(parts: Sequence[Part], whole: Alone) -> Iterator[tuple[str, float]]:
    chances = [part.chance for part in parts]
    logs = [math.log(max(LEAST, one)) for one in chances]
    yield "parts", min(len(parts), 6)
    yield "two", len(parts) == 2
    yield "least", min(chances)
    yield "most", max(chances)
    yield "all", max(-6.0, sum(logs))
    yield "mean", max(-3.0, sum(logs) / len(logs))
    yield "whole", whole.chance
    yield "on whole", max(-6.0, min(6.0, sum(logs) - math.log(max(LEAST, whole.chance))))
    yield "first", parts[0].chance
    yield "last", parts[-1].chance


def _of_whole(
    parts: Sequence[Part], reading: Reading, grounds: Grounds, whole: Alone
) -> Iterator[tuple[str, float]]:
    heard = grounds.weights.of([token.key for token in reading.tokens])
    values = sorted(float(heard[part.step]) for part in parts)
    steps = {part.step for part in parts}
    yield "in all: least", values[0]
    yield "in all: second", values[-2]
    yield "in all: most", values[-1]
    yield "in all: gap", values[-1] - values[0]
    yield "best of all is a part's", whole.step in steps
    yield "best of all is the first's", whole.step == parts[0].step
    yield "best of all is the last's", whole.step == parts[-1].step
    yield "repeated", len(parts) - len(steps)


def _of_steps(steps: Sequence[Step], grounds: Grounds) -> Iterator[tuple[str, float]]:
    first, others = steps[0], steps[1:]
    index = grounds.index
    yield "like methods", sum(one.method is first.method for one in others) / len(others)
    yield "like regions", sum(one.region == first.region for one in others) / len(others)
    yield "like systems", sum(one.system == first.system for one in others) / len(others)
    kin = [bool(index.wholes_of(one.slug) & index.wholes_of(first.slug)) for one in others]
    yield "siblings", sum(kin) / len(kin)
    yield "part of another", any(one.slug in two.parts for one in steps for two in steps)
    yield "dimensions", sum(one.slug in index.dimensions for one in others) / len(others)
    yield "all ask", all(one.method is Method.ASK for one in steps)
    yield "some ask", any(one.method is Method.ASK for one in steps)
    yield "all orders", all(one.method in ORDERS for one in steps)
    yield "some orders", any(one.method in ORDERS for one in steps)
    yield "last looks", steps[-1].method is Method.INSPECT


def _of_breaks(parts: Sequence[Part], reading: Reading) -> Iterator[tuple[str, float]]:
    begun = [reading.breaks[part.segments.start] for part in parts[1:]]
    for kind in KINDS:
        yield f"at {kind}", begun.count(kind) / len(begun)
    inside = len(reading.breaks) - len(parts)
    yield "left uncut", min(6, inside)
    yield "asked", sum(reading.marks[part.segments.start] == "?" for part in parts[1:])


def _of_words(parts: Sequence[Part], reading: Reading) -> Iterator[tuple[str, float]]:
    said = [
        [token.key for token in reading.tokens if token.segment in part.segments] for part in parts
    ]
    telling = [sum(map(tells, keys)) for keys in said]
    verbs = [not VERBS.keys().isdisjoint(keys) for keys in said]
    yield "words", min(40, sum(map(len, said)))
    yield "shortest", min(8, *telling)
    yield "longest", min(12, max(telling))
    yield "first is longest", telling[0] == max(telling)
    yield "with verbs", sum(verbs) / len(verbs)
    yield "first alone with verb", verbs[0] and not any(verbs[1:])
