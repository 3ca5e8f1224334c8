"""Turns a text into words and tokens: cleaned, stemmed, set phrases joined, denials marked.

Knows no catalogue. Spelling correction is handed in as a function.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from casebank.domain.examination.abbreviations import PAIRS, PASSED_OVER, REWRITES, SINGLE
from casebank.domain.examination.cleaning import UNEVEN_WORDS, clean, is_clean
from casebank.domain.examination.lexicon import CANONICAL_VERBS, EMPTY
from casebank.domain.examination.stems import key_of

MAX_LENGTH = 500
"""Characters of a request that are read; the rest is reported as not understood."""

STOP, COMMA, AND, OR, THEN = "stop", "comma", "and", "or", "then"
JOINS = frozenset({AND, OR})
ASIDE, QUERY = "aside", "query"
"""After a colon or a spaced dash; before the diagnosis asked about (*ultrasound ?cyst*)."""
KINDS = (AND, OR, COMMA, STOP, THEN, ASIDE, QUERY)
"""All that may stand between two segments."""
_WORD = re.compile(r"[^\W_]+(?:[&+][^\W_]+)*|[.,;:!?/()\[\]\n=&+¿]|[-–—]")
_POINT = re.compile(r"(?<=\d)point(?=\d)")
_BREAKS = {",": COMMA, ";": STOP, ".": STOP, ":": ASIDE, "!": STOP, "?": STOP, "\n": STOP,
           "(": COMMA, ")": COMMA, "[": COMMA, "]": COMMA, "and": AND, "&": AND, "+": AND,
           "plus": AND, "or": OR, "then": THEN, "–": COMMA, "—": COMMA, "/": AND, "¿": QUERY,
           "also": AND, "but": COMMA, "afterwards": THEN}  # fmt: skip

_CLAUSE_ENDS = (COMMA, STOP, THEN, ASIDE, QUERY)


class Token(NamedTuple):
    """One unit of meaning: its key and the indices of the written words behind it."""

    key: str
    words: tuple[int, ...]
    clause: int
    segment: int
    corrected: bool = False


@dataclass(frozen=True)
class Reading:
    """A text read: written words, tokens, and what separates each segment from the one before.

    ``marks`` are the breaks as they were written: ``?`` where the kind is a stop.
    """

    words: tuple[str, ...]
    tokens: tuple[Token, ...]
    breaks: tuple[str, ...]
    cut: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()


Corrector = Callable[[str], tuple[str, ...]]


def read(text: str, correct: Corrector | None = None) -> Reading:
    """Read up to MAX_LENGTH characters; ``correct`` gives the words meant by an unknown word."""
    whole, cut = _cut(text if text.isascii() else unicodedata.normalize("NFKC", text))
    words: list[str] = []
    tokens: list[Token] = []
    breaks, marks = [STOP], [""]
    clause = 0
    for found in _WORD.findall(clean(whole, is_spoken=correct is not None)):
        kind = _BREAKS.get(found.lower())
        if kind or found in "-=":
            clause += kind in _CLAUSE_ENDS
            if kind:
                breaks.append(kind)
                marks.append(found.lower())
            continue
        words.append(_POINT.sub(".", found) if "point" in found else found)
        plain, place = _plain(found), (len(words) - 1,)
        tokens += [
            Token(key_of(meant), place, clause, len(breaks) - 1, meant != plain)
            for meant in (correct(plain) if correct else (plain,))
        ]
    return Reading(tuple(words), tuple(_rewritten(tokens)), tuple(breaks), cut, tuple(marks))


def keys(text: str) -> tuple[str, ...]:
    """The keys of a phrase of the catalogue, in order; a key said again is marked."""
    return marked_repeats(token.key for token in read(text).tokens)


def literal(said: Iterable[str]) -> tuple[str, ...]:
    """What is left of keys when the empty words go; all of them where nothing would be left."""
    every = tuple(said)
    return tuple([key for key in every if key not in EMPTY]) or every


def spoken_keys(text: str) -> tuple[str, ...]:
    """The keys of a whole text read as a student's would be, for comparing entire texts."""
    found, clauses = _plainly_spoken(text) or _spoken(clean(text, is_spoken=True))
    if _may_be_rewritten(found):
        return tuple([key for _, _, form in _rewrites(found, clauses) for key in form])
    return tuple([CANONICAL_VERBS.get(key, key) for key in found])


def _may_be_rewritten(found: list[str]) -> bool:
    """Whether a set phrase may stand among the keys; quick, and True rather too often."""
    if REWRITES.keys().isdisjoint(found):
        return False
    if not SINGLE.isdisjoint(found):
        return True
    told = [key for key in found if key not in PASSED_OVER]
    return not PAIRS.isdisjoint(pairwise(told))


class _PlainKeys(dict[str, str | None]):
    """A word to its key: none of a join such as *and*, None where the word needs a closer look."""

    def __missing__(self, word: str) -> str | None:
        kind = _BREAKS.get(word)
        is_plain = word.isascii() and word.isalpha() and word.islower()
        if not is_plain or word in UNEVEN_WORDS or kind in _CLAUSE_ENDS:
            self[word] = None
        else:
            self[word] = "" if kind else key_of(word)
        return self[word]


_PLAIN_KEYS = _PlainKeys()


def _plainly_spoken(text: str) -> tuple[list[str], list[int]] | None:
    """The keys and clauses of a text of plain words that needs no cleaning; quick. Else None."""
    words = text.split()
    found = [_PLAIN_KEYS[word] for word in words]
    if None in found or not is_clean(words, text):
        return None
    said = [key for key in found if key]
    return (said, [0] * len(said)) if said else None


def _spoken(text: str) -> tuple[list[str], list[int]]:
    """The keys of a clean text, and in which clause each stands."""
    found: list[str] = []
    clauses: list[int] = []
    clause = 0
    for word in _WORD.findall(text):
        plain = _plain(word)
        if plain in _BREAKS or not plain[0].isalnum():
            clause += _BREAKS.get(plain) in _CLAUSE_ENDS
        else:
            found.append(key_of(plain))
            clauses.append(clause)
    return found, clauses


def marked_repeats(said: Iterable[str]) -> tuple[str, ...]:
    """The keys with ``*2`` on the second and ``*3`` on the third of the same.

    *Heart rate against pulse rate* is not said by *heart rate*, though both parts have one key.
    """
    said = list(said)
    if len(set(said)) == len(said):
        return tuple(said)
    counts: dict[str, int] = {}
    out = []
    for key in said:
        counts[key] = counts.get(key, 0) + 1
        out.append(key if counts[key] == 1 else f"{key}*{counts[key]}")
    return tuple(out)


def base(key: str) -> str:
    """The key without its mark of repetition."""
    return key.partition("*")[0]


def plain_words(text: str) -> list[str]:
    """The lower-case words of a text as they are written, each way once, for the vocabulary."""
    written = dict.fromkeys(_WORD.findall(clean(text, is_spoken=False)))
    return [_plain(found) for found in written if found[0].isalnum()]


def _cut(text: str) -> tuple[str, tuple[str, ...]]:
    if len(text) <= MAX_LENGTH:
        return text, ()
    whole = text[:MAX_LENGTH].rpartition(" ")[0] or text[:MAX_LENGTH]
    return whole, tuple(_WORD.findall(text[len(whole) :])[:50])


def _plain(word: str) -> str:
    if word.isascii():
        return word.lower()
    decomposed = unicodedata.normalize("NFKD", word.lower())
    return "".join(part for part in decomposed if not unicodedata.combining(part))


def _rewritten(tokens: list[Token]) -> list[Token]:
    out: list[Token] = []
    clauses = [token.clause for token in tokens]
    for at, length, form in _rewrites([token.key for token in tokens], clauses):
        used = tokens[at : at + length]
        if form == (used[0].key,):
            out.append(used[0])
            continue
        words = tuple(word for token in used for word in token.words)
        corrected = any(token.corrected for token in used)
        last = used[-1]
        out += [Token(key, words, last.clause, last.segment, corrected) for key in form]
    return out


def _rewrites(
    found: Sequence[str], clauses: Sequence[int]
) -> Iterator[tuple[int, int, tuple[str, ...]]]:
    """Place and number of the keys that belong together, with the keys of what they mean."""
    at = 0
    while at < len(found):
        length = 1
        form: tuple[str, ...] = (found[at],)
        for variant, meant in REWRITES.get(found[at], ()):
            taken = _matches(found, clauses, at, variant)
            if taken:
                length, form = taken, meant
                break
        yield at, length, tuple(CANONICAL_VERBS.get(key, key) for key in form)
        at += length


def _matches(
    found: Sequence[str], clauses: Sequence[int], at: int, variant: tuple[str, ...]
) -> int:
    """How many keys the variant takes from ``at``; 0 where it does not stand there."""
    place = at
    for number, key in enumerate(variant):
        while number and place < len(found) and found[place] in PASSED_OVER:
            place += 1
        if place >= len(found) or found[place] != key or clauses[place] != clauses[at]:
            return 0
        place += 1
    return place - at
