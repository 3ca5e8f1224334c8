"""How much the words of a text speak for each step, over all its names and its description at once.

A second opinion beside the one name that fits best: naive Bayes over the catalogue's names. Works
on arrays over the steps (S).
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from casebank.domain.examination.stepindex import StepIndex

Floats = NDArray[np.float64]

PRIOR_NAMES = 3.0
"""A step's share of names with a word is drawn to the whole catalogue's by so many names."""
DESCRIBED = 0.3
"""What a word of the step's description adds to that share, in shares of the whole catalogue's."""
LEAST = 1e-5


class Affinity:
    """The evidence of each word for each step; worked out at a word's first use."""

    def __init__(self, index: StepIndex) -> None:
        self._index = index
        self._names = np.bincount(index.name_steps, minlength=len(index.entries)).astype(float)
        self._known: dict[str, Floats] = {}

    def of(self, keys: Iterable[str]) -> Floats:
        """Sum over the distinct keys of ln(share of a step's names with the key / of all), (S,)."""
        total = np.zeros(len(self._names))
        for key in sorted(set(keys) & self._index.by_key.keys()):
            total += self._of_key(key)
        return total

    @cached_property
    def _fitting(self) -> dict[str, list[int]]:
        """For each word the numbers of the steps whose description holds it."""
        found: dict[str, list[int]] = {}
        for number, entry in enumerate(self._index.entries):
            for key in sorted(entry.fits):
                found.setdefault(key, []).append(number)
        return found

    def _of_key(self, key: str) -> Floats:
        if key not in self._known:
            self._known[key] = self._evidence(key)
        return self._known[key]

    def _evidence(self, key: str) -> Floats:
        index, names = self._index, self._names
        counts = np.bincount(index.name_steps[index.by_key[key]], minlength=len(names))
        overall = counts.sum() / names.sum()
        described = np.zeros(len(names))
        described[self._fitting.get(key, [])] = 1.0
        share = (counts + (PRIOR_NAMES + DESCRIBED * described) * overall) / (names + PRIOR_NAMES)
        evidence: Floats = np.log((share + LEAST) / (overall + LEAST))
        return evidence
