"""Finds the known word meant by a misspelt one; never decides whether that is safe to act on."""

from __future__ import annotations

from collections.abc import Iterable

from rapidfuzz import process
from rapidfuzz.distance import OSA

from casebank.domain.examination.lexicon import COMMON, EMPTY
from casebank.domain.examination.stems import key_of

SHORTEST = 4
"""Shorter words are abbreviations or too near to one another: they are never corrected."""


class Speller:
    """Corrects against a fixed vocabulary; the same word always gives the same answer."""

    def __init__(self, words: Iterable[str]) -> None:
        known = {word for word in words if word}
        self._keys = frozenset(key_of(word) for word in known) | EMPTY | COMMON
        self._by_length: dict[int, list[str]] = {}
        for word in sorted(known):
            if len(word) >= SHORTEST and word.isalpha():
                self._by_length.setdefault(len(word), []).append(word)
        self._long = frozenset(word for word in known if len(word) >= 3 and word.isalpha())
        self._memory: dict[str, tuple[str, ...]] = {}

    def meant(self, word: str) -> tuple[str, ...]:
        """The word itself where known, its nearest neighbour, its two halves, or itself."""
        if len(word) < SHORTEST or not word.isalpha() or key_of(word) in self._keys:
            return (word,)
        if word not in self._memory:
            if len(self._memory) > 10_000:
                self._memory.clear()
            self._memory[word] = self._neighbour(word) or self._halves(word) or (word,)
        return self._memory[word]

    def _neighbour(self, word: str) -> tuple[str, ...]:
        limit = _allowed(len(word))
        choices = [
            known
            for length in range(len(word) - limit, len(word) + limit + 1)
            for known in self._by_length.get(length, ())
        ]
        found = process.extract(word, choices, scorer=OSA.distance, score_cutoff=limit, limit=8)
        ranked = sorted((distance, *_closeness(word, known), known) for known, distance, _ in found)
        ranked = [one for one in ranked if one[0] + one[1] <= _allowed_of(len(word), -int(one[2]))]
        if not ranked:
            return ()
        best = ranked[0]
        if len(word) == SHORTEST and sorted(word) != sorted(str(best[-1])):
            return ()
        rivals = [one for one in ranked[1:] if one[:2] == best[:2]]
        if any(key_of(str(one[-1])) != key_of(str(best[-1])) for one in rivals) and len(word) < 5:
            return ()
        return (str(best[-1]),)

    def _halves(self, word: str) -> tuple[str, ...]:
        splits = [
            (word[:at], word[at:])
            for at in range(3, len(word) - 2)
            if word[:at] in self._long and word[at:] in self._long
        ]
        return max(splits, key=lambda pair: (min(map(len, pair)), pair), default=())


def _allowed(length: int) -> int:
    """Edits allowed in a word of that length: common practice, no source."""
    if length <= 6:
        return 1
    return 2 if length <= 10 else 3


def _allowed_of(length: int, common: int) -> int:
    """The same where ``common`` letters at the beginning are right; seven letters need three."""
    return 1 if length == 7 and common < 3 else _allowed(length)


def _closeness(word: str, known: str) -> tuple[int, int]:
    """A first letter that differs counts as one more edit; then the common beginning decides."""
    other_start = int(word[0] != known[0] and sorted(word[:2]) != sorted(known[:2]))
    common = 0
    for one, two in zip(word, known, strict=False):
        if one != two:
            break
        common += 1
    return other_start, -common
