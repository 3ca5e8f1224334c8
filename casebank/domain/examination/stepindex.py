"""The catalogue's steps compiled for search: phrases, weights of words, and who takes which value.

Built once, immutable, and without any text of a student.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from casebank.domain.examination.lexicon import (
    COMPATIBLE,
    CUES,
    EMPTY,
    KEPT,
    NAMING,
    PROCEDURES,
    SPECIFIC_VERBS,
    THINGS,
    VERBS,
)
from casebank.domain.examination.model import Catalogue, Method, Step
from casebank.domain.examination.phrases import Value
from casebank.domain.examination.stems import key_of
from casebank.domain.examination.stepnames import literals_of, names_of, texts_of
from casebank.domain.examination.tokens import (
    base,
    plain_words,
    spoken_keys,
)

VERB_WEIGHT = 0.6
SPECIFIC_WEIGHT = 1.0
KEPT_WEIGHT = 0.3
CUE_WEIGHT = 0.8
UNKNOWN_WEIGHT = 1.2
THING_WEIGHT = 3.0
LEFT_OUT = frozenset(VERBS.keys() - SPECIFIC_VERBS)
"""Verbs that are no part of a name: *listen to the heart* is a way to name the heart."""
LEFT_OUT_OF = {
    method: frozenset(verb for verb in LEFT_OUT if method in COMPATIBLE[VERBS[verb]])
    for method in Method
}
"""The same by the method of the step: *inject drugs*, asked about, is more than *drugs*."""
MENTIONS = 3
"""A drug is named so many times as often by treatments as it is mentioned by other steps."""
EXAMINE = key_of("examination")
SLOT_ONLY_WEIGHT = 1.5


class StepPhrase(NamedTuple):
    """One way to name a step: its keys without verbs, or the verb where that is the whole name."""

    step: int
    keys: frozenset[str]
    verbs: frozenset[str]
    is_examination: bool = False


@dataclass(frozen=True)
class Entry:
    """A step with the words that name it, the words that merely fit it, and its values."""

    step: Step
    named_by: frozenset[str]
    fits: frozenset[str]
    takes: frozenset[Value]


class StepIndex:
    """Search structure over all steps; positions in ``entries`` are the ids used elsewhere."""

    def __init__(self, catalogue: Catalogue, slot_keys: frozenset[str]) -> None:
        steps = [catalogue.steps[slug] for slug in sorted(catalogue.steps)]
        self.steps = catalogue.steps
        self._labels: dict[str, frozenset[str]] = {}
        texts = [texts_of(step) for step in steps]
        names = [names_of(said) for said in texts]
        self.entries = tuple(
            Entry(step, _union(said), _fitting(step), _taken(step))
            for step, said in zip(steps, names, strict=True)
        )
        self._weights = _weights(self.entries)
        self._slot_keys = slot_keys
        self._named = {key: self._weight(base(key)) for key in self._weights}
        self.number = {entry.step.slug: place for place, entry in enumerate(self.entries)}
        self.phrases = tuple(self._phrases(names))
        self.by_key, self.name_weights = _postings(self.phrases, self.weight)
        self.name_steps = np.array([phrase.step for phrase in self.phrases])
        self.are_examinations = np.array([phrase.is_examination for phrase in self.phrases])
        methods = list(Method)
        self.step_methods = np.array([methods.index(one.step.method) for one in self.entries])
        self.takers = _takers(self.entries)
        self.word_for_word, self.literals = literals_of(texts)
        self.known_keys = frozenset(self._weights) | slot_keys | VERBS.keys() | KEPT
        self.drug_keys = _drugs(self.entries, names)

    @cached_property
    def dimensions(self) -> frozenset[str]:
        """The questions that any complaint is asked about: its onset, what makes it worse."""
        whole = self.steps.get("complaint-in-full")
        return frozenset(whole.parts if whole else ())

    @cached_property
    def _wholes(self) -> dict[str, frozenset[str]]:
        found: dict[str, frozenset[str]] = {}
        for step in self.steps.values():
            for part in step.parts:
                found[part] = found.get(part, frozenset()) | {step.slug}
        return found

    def wholes_of(self, slug: str) -> frozenset[str]:
        """The whole examinations that a step is part of."""
        return self._wholes.get(slug, frozenset())

    @cached_property
    def _name_counts(self) -> NDArray[np.int64]:
        return np.bincount(self.name_steps, minlength=len(self.entries))

    def names_of(self, slug: str) -> int:
        """How many names a step has."""
        return int(self._name_counts[self.number[slug]])

    def label_keys(self, slug: str) -> frozenset[str]:
        """The telling keys of a step's label, without verbs."""
        if slug not in self._labels:
            said = spoken_keys(self.steps[slug].label)
            self._labels[slug] = frozenset(said) - EMPTY - VERBS.keys()
        return self._labels[slug]

    def weight(self, key: str) -> float:
        """How much a key tells: rare words more than common ones, verbs and small words little."""
        known = self._named.get(key)
        return self._weight(base(key)) if known is None else known

    def _weight(self, key: str) -> float:
        if key in VERBS:
            return SPECIFIC_WEIGHT if key in SPECIFIC_VERBS else VERB_WEIGHT
        if key in CUES:
            return CUE_WEIGHT
        if key in NAMING or key in KEPT:
            return KEPT_WEIGHT
        if key in self._weights:
            return self._weights[key]
        if key in self._slot_keys:
            return SLOT_ONLY_WEIGHT
        return THING_WEIGHT if key in THINGS else UNKNOWN_WEIGHT

    def rarity(self, value: Value) -> float:
        """0.05 for a value that every step takes, 0.4 for one that a single step takes."""
        share = math.log(len(self.takers[value])) / math.log(len(self.entries) + 1)
        return 0.05 + 0.35 * (1 - share)

    def _phrases(self, names: list[list[frozenset[str]]]) -> Iterator[StepPhrase]:
        for number, said in enumerate(names):
            is_whole = bool(self.entries[number].step.parts)
            left_out = LEFT_OUT_OF[self.entries[number].step.method]
            for whole in said:
                verbs = whole & left_out
                content = (whole - verbs or whole) if verbs else whole
                whole_exam = is_whole and EXAMINE in content
                yield StepPhrase(number, content, verbs, whole_exam)


def _union(said: list[frozenset[str]]) -> frozenset[str]:
    return frozenset(key for name in said for key in name)


def _fitting(step: Step) -> frozenset[str]:
    text = f"{step.region} {step.looks_for} {step.how}"
    said = frozenset(key_of(word) for word in plain_words(text))
    return said - EMPTY - VERBS.keys()


def _taken(step: Step) -> frozenset[Value]:
    return frozenset((slot.slot, value) for slot in step.slots for value in slot.values)


def _weights(entries: tuple[Entry, ...]) -> dict[str, float]:
    counts: dict[str, int] = {}
    for entry in entries:
        for key in entry.named_by:
            counts[key] = counts.get(key, 0) + 1
    scale = math.log(len(entries) + 2)
    return {
        key: 0.6 + 2 * math.log((len(entries) + 1) / (count + 0.5)) / scale
        for key, count in counts.items()
    }


def _postings(
    phrases: tuple[StepPhrase, ...], weigh: Callable[[str], float]
) -> tuple[dict[str, NDArray[np.int64]], NDArray[np.float64]]:
    """For each key the numbers of the names that hold it, in order; and each name's weight."""
    said = [key for phrase in phrases for key in phrase.keys]
    known = sorted(set(said))
    codes = {key: code for code, key in enumerate(known)}
    coded = np.fromiter(map(codes.__getitem__, said), np.int64, len(said))
    numbers = np.repeat(np.arange(len(phrases)), [len(phrase.keys) for phrase in phrases])
    order = np.argsort(coded, kind="stable")
    ends = np.cumsum(np.bincount(coded, minlength=len(known)))
    pieces: list[NDArray[np.int64]] = np.split(numbers[order].astype(np.int64), ends[:-1])
    weights = np.array([weigh(key) for key in known])[coded]
    # Summed in the order of the keys: that of a set differs from one process to the next.
    total = np.bincount(numbers[order], weights=weights[order], minlength=len(phrases))
    return dict(zip(known, pieces, strict=True)), total.astype(np.float64)


def _takers(entries: tuple[Entry, ...]) -> dict[Value, NDArray[np.int64]]:
    found: dict[Value, list[int]] = {}
    for number, entry in enumerate(entries):
        for value in sorted(entry.takes):
            found.setdefault(value, []).append(number)
    return {value: np.array(numbers) for value, numbers in found.items()}


def _drugs(entries: tuple[Entry, ...], names: list[list[frozenset[str]]]) -> frozenset[str]:
    """Keys that name treatments: drugs above all, though a question may mention one, too."""
    treat: Counter[str] = Counter()
    other: Counter[str] = Counter()
    for entry, said in zip(entries, names, strict=True):
        count = treat if entry.step.method is Method.TREAT else other
        count.update(key for name in said for key in name)
    drugs = {key for key, times in treat.items() if times >= MENTIONS * other[key]}
    return frozenset(drugs - set(VERBS) - EMPTY - PROCEDURES)
