"""Cuts a reading into words and finds the vocabulary's phrases in them, the longest first.

Owns comparison of words. What the phrases found add up to is ``readings``'s.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from casebank.domain.examination.spelling import Speller
from casebank.domain.examination.stems import key_of
from casebank.domain.examination.vocabulary import Feature, Term, Vocabulary

ROMAN = {"i": "1", "ii": "2", "iii": "3", "iv": "4", "v": "5", "vi": "6"}
_GRADE = re.compile(r"\b(?:grade\s*)?([1-6]|i{1,3}|iv|vi?)\s*(?:/|out of|of)\s*(?:6|vi)\b", re.I)
_GRADED = re.compile(r"\bgrade\s*(i{1,3}|iv|vi?)\b", re.I)
_WORD = re.compile(r"[^\W_]+(?:'[^\W_]+)?|[,;.:\n()&+]")
_BREAKS = frozenset(",;.:\n()&+") | {"and", "with", "plus", "but", "also"}
IN = key_of("in")
HEART, SOUND = key_of("heart"), key_of("sound")
DENIALS = frozenset({"no", "not", "without", "never", "nor", "cannot"})
_EMPTY = """
a an the this that these those i it its he she his her their my you we there is are was were be
been has have had can could would may do does did of for to by from as which who on at over
when while very quite rather somewhat slightly bit patient patients
"""
_IDLE = "in hear heard think probably likely sound best like pulse rhythm beat"
EMPTY = frozenset(key_of(word) for word in _EMPTY.split())
"""Words that carry nothing, in phrases as in what is said."""
IDLE = EMPTY | frozenset(key_of(word) for word in _IDLE.split())
"""Words that are never reported as unused."""


@dataclass(frozen=True)
class Word:
    """A written word with its key; ``clause`` numbers the stretches between breaks."""

    text: str
    key: str
    clause: int


@dataclass(frozen=True)
class Found:
    """A phrase found at words ``start`` to ``end`` (excluded) with everything it may mean."""

    start: int
    end: int
    meanings: tuple[tuple[str, str], ...]


class Phrasebook:
    """The phrases of a vocabulary, ready to be looked for."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self._phrases: dict[tuple[str, ...], list[tuple[str, str]]] = {}
        self.cues: dict[str, str] = {}
        words: set[str] = set(DENIALS) | {"or"}
        for feature in vocabulary.features.values():
            self.cues |= {key_of(cue): feature.slug for cue in feature.cues}
            words |= set(feature.cues)
            for term in feature.terms.values():
                words |= self._learn(feature, term)
        self._speller = Speller(words)
        self._longest = max(map(len, self._phrases), default=0)

    def _learn(self, feature: Feature, term: Term) -> set[str]:
        said: set[str] = set()
        for phrase in (term.label, *term.phrases):
            words = _plain_words(re.sub(r"\(.*?\)", "", phrase))
            every = [key_of(word) for word in words if word not in _BREAKS]
            keys = [key for key in _brief(every) if key not in EMPTY] or every
            if keys[0] == IN and len(keys) > 1:  # "in the neck" is said "to the neck" too
                del keys[0]
            meanings = self._phrases.setdefault(tuple(keys), [])
            if (feature.slug, term.slug) not in meanings:
                meanings.append((feature.slug, term.slug))
            said |= set(words)
        return said

    def words(self, text: str) -> list[Word]:
        """The words of a text, spelling mended; ``and`` and commas part clauses."""
        out: list[Word] = []
        clause = 0
        for written in _WORD.findall(_graded(text)):
            if written.lower() in _BREAKS:
                clause += 1
                continue
            meant = self._speller.meant(_plain(written))
            out += [Word(written, key_of(word), clause) for word in meant]
        return out

    def find(self, words: list[Word]) -> list[Found]:
        """The phrases in the words, from the left, the longest at each place; none overlap."""
        found, at = [], 0
        while at < len(words):
            one = self._at(words, at)
            if one:
                found.append(one)
            at = one.end if one else at + 1
        return found

    def _at(self, words: list[Word], start: int) -> Found | None:
        best: Found | None = None
        for end, keys in self._stretches(words, start):
            if keys in self._phrases:
                best = Found(start, end, tuple(self._phrases[keys]))
        return best

    def _stretches(self, words: list[Word], start: int) -> Iterator[tuple[int, tuple[str, ...]]]:
        """Longer and longer stretches of keys from ``start``, empty words inside passed over."""
        keys: list[str] = []
        for place in range(start, len(words)):
            key = words[place].key
            if key in EMPTY and keys:
                continue
            if key == HEART and keys and place + 1 < len(words) and words[place + 1].key == SOUND:
                continue
            keys.append(key)
            if len(keys) > self._longest:
                return
            yield place + 1, tuple(keys)

    def is_idle(self, word: Word) -> bool:
        """Whether the word carries nothing that a reading could miss."""
        return word.key in IDLE or word.key in self.cues or word.key in {*DENIALS, "or"}


def _brief(keys: list[str]) -> list[str]:
    """*Third heart sound* is *third sound*."""
    return [
        key
        for place, key in enumerate(keys)
        if not (key == HEART and place and keys[place + 1 : place + 2] == [SOUND])
    ]


def _graded(text: str) -> str:
    """Every way of writing a grade as *grade 3*."""
    text = unicodedata.normalize("NFKC", text).replace("’", "'")
    text = _GRADE.sub(lambda m: f" grade {ROMAN.get(m[1].lower(), m[1])} ", text)
    return _GRADED.sub(lambda m: f"grade {ROMAN[m[1].lower()]}", text)


def _plain(word: str) -> str:
    decomposed = unicodedata.normalize("NFKD", word.lower().replace("'", ""))
    return "".join(part for part in decomposed if not unicodedata.combining(part))


def _plain_words(text: str) -> list[str]:
    return [_plain(word) for word in re.findall(r"[^\W_]+(?:'[^\W_]+)?", text)]
