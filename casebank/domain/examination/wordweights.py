"""What each word of a text says for and against each step, learned from texts that were understood.

Owns the table and the sum over a text's words; how the table was learned is told by
``tests.evaluation.learn_words``. A catalogue may have steps that the table does not know, and the
other way round. Works on arrays over the words (W) and the steps (S).
"""

from __future__ import annotations

import io
import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

UNKNOWN = -1.0
"""What is said for a step that the table does not know: as for one that no word points to."""
REMEMBERED = 512
"""Texts, and parts of texts, whose sums are kept: one reading asks for the same often."""


@dataclass(frozen=True)
class WordTable:
    """Keys of words (W) with their rarity; slugs of steps (S) with what speaks for each before any
    word; and for the word at ``w`` the steps ``numbers[starts[w]:starts[w + 1]]`` with ``weights``.
    """

    words: tuple[str, ...]
    rarity: Floats
    steps: tuple[str, ...]
    bias: Floats
    starts: Ints
    numbers: Ints
    weights: Floats


NO_TABLE = WordTable(
    (), np.empty(0), (), np.empty(0), np.zeros(1, np.int64), np.empty(0, np.int64), np.empty(0)
)


def table_of(data: bytes) -> WordTable:
    """The table as stored: a numpy archive without objects. Raises ValueError for another file."""
    with np.load(io.BytesIO(data), allow_pickle=False) as stored:
        return WordTable(
            words=tuple(str(stored["words"]).split()),
            rarity=stored["rarity"].astype(np.float64),
            steps=tuple(str(stored["steps"]).split()),
            bias=stored["bias"].astype(np.float64),
            starts=np.concatenate([[0], np.cumsum(stored["counts"], dtype=np.int64)]),
            numbers=stored["numbers"].astype(np.int64),
            weights=stored["weights"].astype(np.float64) * float(stored["scale"]),
        )


class WordWeights:
    """The table for the steps of one catalogue; build once, share freely."""

    def __init__(self, table: WordTable, slugs: Sequence[str]) -> None:
        self._table, self._steps = table, len(slugs)
        place = {slug: number for number, slug in enumerate(slugs)}
        places = np.array([place.get(slug, -1) for slug in table.steps], np.int64)
        self._known = np.flatnonzero(places >= 0)
        self._place = places[self._known]
        self._word = {word: number for number, word in enumerate(table.words)}
        self._sums = lru_cache(maxsize=REMEMBERED)(self._sum)

    def __bool__(self) -> bool:
        return bool(self._word)

    def knows(self, key: str) -> bool:
        """Whether the word was met in the texts that the table was learned from."""
        return key in self._word

    def of(self, keys: Sequence[str]) -> Floats:
        """How much a text of these keys speaks for each step (S,): about 0 and more for the step
        meant, about -1 for any other; a linear support vector machine's distance."""
        return self._sums(tuple(keys))

    def first(self, keys: Sequence[str], most: int) -> tuple[int, ...]:
        """Numbers of the ``most`` steps for which a text of these keys speaks most, in order; none
        without a table."""
        if not self:
            return ()
        found = self.of(keys)
        most = min(most, self._steps)
        return tuple(sorted(map(int, np.argpartition(found, self._steps - most)[-most:])))

    def _sum(self, keys: tuple[str, ...]) -> Floats:
        table = self._table
        counts = Counter(self._word[key] for key in keys if key in self._word)
        words = list(counts)
        worth = np.array([1 + math.log(counts[word]) for word in words]) * table.rarity[words]
        norm = float(np.sqrt(worth @ worth)) if words else 1.0
        total = table.bias.copy()
        for word, one in zip(words, worth / norm, strict=True):
            row = slice(table.starts[word], table.starts[word + 1])
            total[table.numbers[row]] += one * table.weights[row]
        return self._of_catalogue(total)

    def _of_catalogue(self, total: Floats) -> Floats:
        found = np.full(self._steps, UNKNOWN)
        found[self._place] = total[self._known]
        found.flags.writeable = False
        return found
