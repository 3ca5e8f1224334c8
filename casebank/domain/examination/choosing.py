"""Which of the steps near to some words is the one meant: each is weighed by its traits.

Owns what speaks for a step beside the name that fits best: the share of its name that was said, its
label and description, its verbs, how often its names hold these words, and what the words said for
it in texts that were understood. The weights were learned from phrasings. A request that the words
say whole, or that goes on from the one before, stands as it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from casebank.domain.examination.affinity import Affinity, Floats
from casebank.domain.examination.answers import Answer
from casebank.domain.examination.decision import is_sure
from casebank.domain.examination.groups import keys_of
from casebank.domain.examination.judgement import total
from casebank.domain.examination.kinship import ORDERS, naming, telling
from casebank.domain.examination.model import Method
from casebank.domain.examination.scoring import FULL, Candidate
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading
from casebank.domain.examination.weights import CHOOSE
from casebank.domain.examination.wordweights import WordWeights

FAIR = 2.5
"""A step is offered whose log odds are behind the best by no more: of texts that taught nothing,
six of seven questions hold the step that was meant, with three offers at the mean."""
MOST_OFFERED = 5


@dataclass(frozen=True)
class Grounds:
    """What a choice rests on beside the words: all of one catalogue, built once."""

    index: StepIndex
    affinity: Affinity
    weights: WordWeights


def chosen(answer: Answer, reading: Reading, grounds: Grounds) -> Answer:
    """The answer with its candidates in the order of their weights, the likeliest first."""
    if len(answer.ranked) < 2 or stands(answer) or not grounds.weights:
        return answer
    described = traits(answer, reading, grounds)
    worth = {
        one.slug: total(each, CHOOSE) for one, each in zip(answer.ranked, described, strict=True)
    }
    ranked = tuple(sorted(answer.ranked, key=lambda one: (-worth[one.slug], one.slug)))
    if ranked[0] is answer.top:
        return replace(answer, ranked=ranked)
    return replace(answer, ranked=ranked, is_sure=is_sure(ranked, grounds.index.steps))


def stands(answer: Answer) -> bool:
    """Whether the best candidate is beyond weighing: it goes on from the request before, or all
    words are its name and its technique."""
    top = answer.top
    is_told_whole = answer.is_sure and min(top.named, top.covered) > FULL and top.told > 0
    return top.inherits or top.is_literal or is_told_whole


def traits(answer: Answer, reading: Reading, grounds: Grounds) -> list[dict[str, float]]:
    """The traits of every candidate of an answer, in their order."""
    said = Said(answer, reading, grounds)
    return [dict(said.traits(one)) for one in answer.ranked]


def fair(answer: Answer, reading: Reading, grounds: Grounds) -> list[int]:
    """Places of the candidates worth offering where the student is asked, the likeliest first."""
    if answer.top.inherits:
        return [0]
    worth = [total(each, CHOOSE) for each in traits(answer, reading, grounds)]
    order = sorted(range(len(worth)), key=lambda place: (-worth[place], place))
    return [place for place in order if worth[place] >= worth[order[0]] - FAIR][:MOST_OFFERED]


class Heard:
    """What the words say for steps (S,): those of one answer, and all of its sentence."""

    def __init__(self, answer: Answer, reading: Reading, grounds: Grounds) -> None:
        self.here = grounds.weights.of(keys_of(answer.group, reading))
        self.whole = grounds.weights.of([token.key for token in reading.tokens])
        self._best_here, self._best_whole = float(self.here.max()), float(self.whole.max())

    def traits(self, number: int) -> Iterator[tuple[str, float]]:
        """Name and value of each trait of the step with that number."""
        here, whole = float(self.here[number]), float(self.whole[number])
        yield "heard", here
        yield "heard to best", here - self._best_here
        yield "heard is best", here >= self._best_here
        yield "heard in all", whole
        yield "heard in all to best", whole - self._best_whole


class Said:
    """The words of one answer, as they bear on its candidates."""

    def __init__(self, answer: Answer, reading: Reading, grounds: Grounds) -> None:
        self._answer, self._index = answer, grounds.index
        self._said = telling(answer, reading)
        self._weight = sum(grounds.index.weight(key) for key in self._said) or 1.0
        self.evidence: Floats = grounds.affinity.of(self._said)
        self._heard = Heard(answer, reading, grounds)
        taken = {reading.tokens[place].segment for place in answer.group.places}
        self._is_part = len(taken) < len({token.segment for token in reading.tokens})

    def traits(self, one: Candidate) -> Iterator[tuple[str, float]]:
        """Name and value of each trait of one candidate."""
        number = self._index.number[one.slug]
        yield from self._of_step(one)
        yield from self._of_words(one)
        yield "affinity", float(self.evidence[number])
        heard = dict(self._heard.traits(number))
        yield from heard.items()
        if self._is_part:
            yield "part: heard", heard["heard"]
            yield "part: heard is best", heard["heard is best"]
            yield "part: heard in all", heard["heard in all"]
            yield "part: score", min(one.score, 1.6)
            yield "part: name", min(one.name_weight, 10.0)

    def _of_step(self, one: Candidate) -> Iterator[tuple[str, float]]:
        step, group = self._index.steps[one.slug], self._answer.group
        yield "many names", math.log(self._index.names_of(one.slug))
        yield "order", step.method in ORDERS
        yield "treat", step.method is Method.TREAT
        yield "whole", bool(step.parts)
        yield "method", step.method in group.methods
        yield "other method", bool(group.methods) and step.method not in group.methods
        yield "ask of patient", group.is_to_patient is True and step.method is Method.ASK
        yield "act on patient", group.is_to_patient is True and step.method is not Method.ASK

    def _of_words(self, one: Candidate) -> Iterator[tuple[str, float]]:
        index, said, weight = self._index, self._said, self._weight
        entry, label = index.entries[index.number[one.slug]], index.label_keys(one.slug)
        described = [key for key in said if key in entry.fits and key not in entry.named_by]
        named = [key for key in said if key in entry.named_by]
        yield from naming(one)
        yield "name", min(one.name_weight, 10.0)
        yield "share of name", min(1.0, one.name_weight / weight)
        yield "told", one.told
        yield "values", one.said.values
        yield "known words", one.known_words
        yield "verb said", one.is_verb_said
        yield "doubtful", bool(one.doubts)
        yield "label", len(label.intersection(said)) / max(1, len(label))
        yield "description", sum(map(index.weight, described)) / weight
        yield "names", sum(map(index.weight, named)) / weight
        yield "neither", 1 - sum(map(index.weight, described + named)) / weight
