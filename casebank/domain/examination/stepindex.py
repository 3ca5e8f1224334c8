"""The catalogue's steps compiled for search: phrases, weights of words, and who takes which value.

Built once, immutable, and without any text of a student.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from casebank.domain.examination.lexicon import (
    COMMON,
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
from casebank.domain.examination.tokens import (
    base,
    literal,
    marked_repeats,
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
    weight: float
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
        texts = [_texts(step) for step in steps]
        names = [_names(said) for said in texts]
        self.entries = tuple(
            Entry(step, _union(said), _fitting(step), _taken(step))
            for step, said in zip(steps, names, strict=True)
        )
        self._weights = _weights(self.entries)
        self._slot_keys = slot_keys
        self._named = {key: self._weight(base(key)) for key in self._weights}
        self.number = {entry.step.slug: place for place, entry in enumerate(self.entries)}
        self.phrases = tuple(self._phrases(names))
        self.by_key = _by_key(self.phrases)
        self.name_weights = np.array([phrase.weight for phrase in self.phrases])
        self.name_steps = np.array([phrase.step for phrase in self.phrases])
        self.are_examinations = np.array([phrase.is_examination for phrase in self.phrases])
        methods = list(Method)
        self.step_methods = np.array([methods.index(one.step.method) for one in self.entries])
        self.takers = _takers(self.entries)
        self.word_for_word, self.literals = _literals(texts)
        self.known_keys = frozenset(self._weights) | slot_keys | VERBS.keys() | KEPT
        self.drug_keys = _drugs(self.entries, names)

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
        weigh = cache(self.weight)
        for number, said in enumerate(names):
            is_whole = bool(self.entries[number].step.parts)
            left_out = LEFT_OUT_OF[self.entries[number].step.method]
            for whole in said:
                verbs = whole & left_out
                content = (whole - verbs or whole) if verbs else whole
                weight = sum([weigh(key) for key in content])
                whole_exam = is_whole and EXAMINE in content
                yield StepPhrase(number, content, verbs, weight, whole_exam)


def _texts(step: Step) -> list[tuple[str, ...]]:
    """The keys of each name of the step, as they would be read from a student; label first."""
    return [spoken_keys(text) for text in (step.label, *step.synonyms)]


def _names(texts: list[tuple[str, ...]]) -> list[frozenset[str]]:
    """Each name without empty words; a key said twice counts as two.

    A name of nothing but a verb, or one everyday word, and empty words (*press and let go*, *see
    two of things*) is only known literally.
    """
    marked = [_telling_keys(text) for text in texts]
    return list(
        dict.fromkeys(
            frozenset(name)
            for name, text in zip(marked, texts, strict=True)
            if not _is_everyday(name) or name == list(text)
        )
    )


def _is_everyday(name: list[str]) -> bool:
    for key in name:
        if key not in VERBS and key not in COMMON and key not in KEPT and not key.isdigit():
            return False
    beside = [key for key in name if key not in VERBS]
    if len(beside) == 1 and beside[0] in COMMON:
        return True
    return all(key in VERBS or key in KEPT or key.isdigit() for key in name)


def _telling_keys(text: tuple[str, ...]) -> list[str]:
    """A name without empty words; a name of one word keeps those that make it more than that."""
    if len(text) > 1 and EMPTY.isdisjoint(text) and len(set(text)) == len(text):
        return list(text)
    marked = marked_repeats(text)
    content = [mark for key, mark in zip(text, marked, strict=True) if key not in EMPTY]
    if len(content) != 1 or content[0] in VERBS:
        return content
    return [
        mark for key, mark in zip(text, marked, strict=True) if key not in EMPTY or mark in NAMING
    ]


Names = dict[tuple[str, ...], frozenset[int]]


def _literals(texts: list[list[tuple[str, ...]]]) -> tuple[Names, Names]:
    """Whole names as they are said, and without their empty words, to the steps they name."""
    exact: Names = {}
    loose: Names = {}
    for number, names in enumerate(texts):
        alone = frozenset((number,))
        for said in names:
            short = literal(said)
            _add(exact, said, alone)
            if len(short) > 1 or short == said or not _is_special(said, short):
                _add(loose, short, alone)
    return exact, loose


def _is_special(said: tuple[str, ...], short: tuple[str, ...]) -> bool:
    return bool(NAMING.intersection(said)) or _is_everyday(list(short))


def _add(names: Names, said: tuple[str, ...], alone: frozenset[int]) -> None:
    """Most names are one step's alone, so that its set is shared and not copied."""
    if said:
        names[said] = names[said] | alone if said in names else alone


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


def _by_key(phrases: tuple[StepPhrase, ...]) -> dict[str, NDArray[np.int64]]:
    """For each key the numbers of the names that hold it, in order."""
    found: dict[str, list[int]] = {}
    for number, phrase in enumerate(phrases):
        for key in phrase.keys:
            found.setdefault(key, []).append(number)
    return {key: np.array(found[key]) for key in sorted(found)}


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
