"""Whether a text asks for one step alone, and for which: what all its words say together.

Most texts do, however long: details, reasons and remarks stand beside the request. What the words
of each part say for that step, and for others, tells it from a text of several requests. The
weights were learned from phrasings. Only words are weighed here; how a step is named is
``scoring``'s.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from casebank.domain.examination.choosing import Grounds
from casebank.domain.examination.groups import THEY, YOU
from casebank.domain.examination.judgement import chance
from casebank.domain.examination.kinship import ORDERS
from casebank.domain.examination.lexicon import VERBS, tells
from casebank.domain.examination.model import Method, Step
from casebank.domain.examination.tokens import KINDS, Reading
from casebank.domain.examination.weights import ALONE
from casebank.domain.examination.wordweights import Floats

REASONS = frozenset({"because", "since", "as", "so", "if", "whether", "for", "to"})
NOTHING_SAID = -1.2
"""Stands for what is said for a step where no part speaks for another one."""
CLEAR = 0.5
"""Leads that are larger are alike."""


@dataclass(frozen=True)
class Alone:
    """The number of the step for which all words speak most, and the chance, 0-1, that it is all
    that is asked for."""

    step: int
    chance: float


def alone(reading: Reading, grounds: Grounds) -> Alone | None:
    """The one step that a text may ask for; None without words or without a table of them."""
    if not reading.tokens or not grounds.weights:
        return None
    heard = Hearing(reading, grounds)
    return Alone(heard.step, chance(heard.traits(), ALONE))


class Hearing:
    """A text as its words speak for steps, in all and part by part."""

    def __init__(self, reading: Reading, grounds: Grounds) -> None:
        self._reading, self._grounds = reading, grounds
        self._keys = [token.key for token in reading.tokens]
        self._whole = grounds.weights.of(self._keys)
        first = np.argpartition(-self._whole, 2)[:3]
        self._best = [int(one) for one in first[np.argsort(-self._whole[first], kind="stable")]]
        self.step = self._best[0]

    def traits(self) -> Mapping[str, float]:
        """Name and value of each trait of the text."""
        return {
            name: float(value)
            for each in (self._of_all(), self._of_names(), self._of_parts(), self._of_speech())
            for name, value in each
        }

    @cached_property
    def _telling(self) -> Sequence[str]:
        return [key for key in self._keys if tells(key)]

    def _of_all(self) -> Iterator[tuple[str, float]]:
        best, second, third = (float(self._whole[one]) for one in self._best)
        yield "heard", best
        yield "heard, at most 0", min(0.0, best)
        yield "lead", best - second
        yield "lead, at most clear", min(CLEAR, best - second)
        yield "lead on the third", best - third
        one, two = self._steps(self._best[:2])
        wholes = self._grounds.index.wholes_of
        yield "second is sibling", bool(wholes(one.slug) & wholes(two.slug))
        yield "second is part", two.slug in one.parts
        yield "second is whole", one.slug in two.parts

    def _of_names(self) -> Iterator[tuple[str, float]]:
        index, said = self._grounds.index, self._telling
        entry = index.entries[self.step]
        weight = sum(map(index.weight, said)) or 1.0
        named = [key for key in said if key in entry.named_by]
        described = [key for key in said if key in entry.fits and key not in entry.named_by]
        yield "named", sum(map(index.weight, named)) / weight
        yield "described", sum(map(index.weight, described)) / weight
        known = sum(self._grounds.weights.knows(key) for key in said)
        yield "known", known / max(1, len(said))
        yield "unknown", min(3, len(said) - known)
        evidence = self._grounds.affinity.of(said)
        yield "affinity to best", float(evidence[self.step] - evidence.max())
        yield "whole", bool(entry.step.parts)
        yield "ask", entry.step.method is Method.ASK
        yield "treat", entry.step.method is Method.TREAT
        yield "order", entry.step.method in ORDERS

    def _of_parts(self) -> Iterator[tuple[str, float]]:
        own, gaps, others, leads = [0.0], [0.0], [], [0.0]
        for said in self._parts():
            heard: Floats = self._grounds.weights.of(said)
            best = int(np.argmax(heard))
            if best != self.step:
                two = np.partition(heard, -2)[-2:]
                leads.append(float(two[1] - two[0]) + min(0.0, float(two[1])))
            own.append(float(heard[self.step]))
            gaps.append(float(heard[best] - heard[self.step]))
            if best != self.step:
                others.append((float(heard[best]), best))
        rivals = sorted((worth for worth, _ in others), reverse=True)
        yield "part: best", max(own[1:], default=-1.0)
        yield "part: worst", min(own)
        yield "part: widest gap", max(gaps)
        yield "part: mean gap", sum(gaps) / max(1, len(gaps) - 1)
        yield "others", min(4, len({step for _, step in others}))
        yield "no other", not others
        yield "rival", max([*rivals[:1], NOTHING_SAID])
        yield "second rival", max([*rivals[1:2], NOTHING_SAID])
        yield "rival: lead", max(leads)
        yield "rival: second lead", sorted([0.0, *leads])[-2]
        in_all = [float(self._whole[step]) for _, step in others]
        yield "rival in all", max([*in_all, NOTHING_SAID])
        yield "rival in all to best", max([*in_all, NOTHING_SAID]) - float(self._whole[self.step])
        yield "rival is second", self._best[1] in {step for _, step in others}
        yield "rivals in all", sum(worth > -0.6 for worth in in_all)
        yield from self._of_others(self._steps({step for _, step in others}))

    def _of_others(self, others: Sequence[Step]) -> Iterator[tuple[str, float]]:
        if not others:
            return
        own = self._steps([self.step])[0]
        yield "others: region", sum(one.region == own.region for one in others) / len(others)
        yield "others: method", sum(one.method is own.method for one in others) / len(others)
        yield "others: part", sum(one.slug in own.parts for one in others) / len(others)
        yield "others: whole", sum(own.slug in one.parts for one in others) / len(others)
        yield "others: ask", sum(one.method is Method.ASK for one in others) / len(others)

    def _of_speech(self) -> Iterator[tuple[str, float]]:
        reading, breaks = self._reading, self._reading.breaks[1:]
        yield "words", min(len(self._keys), 40)
        yield "telling", min(len(self._telling), 15)
        yield "one word", len(self._telling) <= 1
        for kind in KINDS:
            yield f"breaks: {kind}", min(4, breaks.count(kind))
        yield "segments", min(8, len(reading.breaks))
        yield "verbs", len({token.segment for token in reading.tokens if token.key in VERBS})
        yield "questions", reading.marks.count("?")
        said = {word.lower() for word in reading.words}
        own = self._steps([self.step])[0].method
        yield "you", not said.isdisjoint(YOU)
        yield "they", not said.isdisjoint(THEY)
        yield "reason", not said.isdisjoint(REASONS)
        yield "asks you", own is Method.ASK and not said.isdisjoint(YOU)
        methods = {VERBS[key] for key in self._keys if key in VERBS}
        yield "method", own in methods
        yield "other method", bool(methods) and own not in methods
        yield "methods", len(methods)
        yield "corrected", any(token.corrected for token in reading.tokens)

    def _parts(self) -> Iterator[Sequence[str]]:
        """The keys of each segment that tells something."""
        segments: dict[int, list[str]] = {}
        for token in self._reading.tokens:
            segments.setdefault(token.segment, []).append(token.key)
        yield from (said for said in segments.values() if any(map(tells, said)))

    def _steps(self, numbers: Iterable[int]) -> list[Step]:
        return [self._grounds.index.entries[number].step for number in numbers]
