"""Finds in a reading the set phrases that say a value of a technique slot.

Owns matching of phrases against tokens; which value a step takes is ``scoring``'s.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from casebank.domain.examination.lexicon import EMPTY, KEPT, SIDE_WORDS, TELLING
from casebank.domain.examination.model import SLOTS, Catalogue, SlotValue
from casebank.domain.examination.tokens import COMMA, STOP, THEN, Reading, Token, base, keys

_PERSONS = frozenset(
    ["i", "im", "ill", "me", "my", "you", "your", "him", "his", "her", "them", "their", "patient"]
)
Value = tuple[str, str]
"""Slot and value slug."""


@dataclass(frozen=True)
class Phrase:
    """The keys that say a value, in order: side by side where ``is_close``; one between commas
    where ``is_alone`` (written with a comma before: *, flat*)."""

    keys: tuple[str, ...]
    value: Value
    is_close: bool
    is_alone: bool


@dataclass(frozen=True)
class Match:
    """A value said by the tokens at ``places`` (indices into the reading, ascending)."""

    value: Value
    places: tuple[int, ...]
    weight: float

    @property
    def slot(self) -> str:
        """The technique slot whose value was said."""
        return self.value[0]


class PhraseBook:
    """All phrases of the catalogue's slot values, found by their rarest key."""

    def __init__(self, catalogue: Catalogue) -> None:
        phrases = {phrase for value in catalogue.values.values() for phrase in _phrases_of(value)}
        counts: dict[str, int] = {}
        for phrase in phrases:
            for key in phrase.keys:
                counts[key] = counts.get(key, 0) + 1
        self._by_key: dict[str, list[Phrase]] = {}
        for phrase in sorted(phrases, key=lambda one: (one.value, one.keys)):
            rarest = min(phrase.keys, key=lambda key: (counts[key], key))
            self._by_key.setdefault(rarest, []).append(phrase)
        self.keys = frozenset(counts)

    def matches(self, reading: Reading) -> tuple[Match, ...]:
        """Everything said of technique, denied or not, the longest first."""
        tokens = reading.tokens
        found: dict[tuple[Value, tuple[int, ...]], Match] = {}
        for place, token in enumerate(tokens):
            for phrase in self._by_key.get(token.key, ()):
                places = _places(tokens, place, phrase, reading)
                if places:
                    weight = sum(_telling(key) for key in phrase.keys)
                    found[(phrase.value, places)] = Match(phrase.value, places, weight)
        return tuple(sorted(found.values(), key=_rank))


def _telling(key: str) -> float:
    if key in EMPTY:
        return 0.1
    return 0.3 if key in KEPT else 1.0


def _rank(match: Match) -> tuple[float, int, int, tuple[int, ...], str]:
    span = match.places[-1] - match.places[0]
    return (-match.weight, span, SLOTS.index(match.slot), match.places, match.value[1])


def _phrases_of(value: SlotValue) -> Iterable[Phrase]:
    slug = [value.slug.replace("-", " ")] if "-" in value.slug else []
    for text in (value.label, value.label.partition(" (")[0], *slug, *value.phrases):
        said = content_keys(text)
        if said and not all(key in KEPT for key in said):
            close = any(key in SIDE_WORDS or key in _PERSONS for key in said)
            yield Phrase(said, (value.slot, value.slug), close, text.startswith(","))


def content_keys(text: str) -> tuple[str, ...]:
    """The keys of a phrase without empty words; none where a key stands twice (*side to side*).

    Where a single word would be left, empty words that tell stay (*full minute*, *ten points*), and
    all words where a person is named: *on his back*, *against me*.
    """
    said = keys(text)
    content = tuple(key for key in said if base(key) not in EMPTY)
    if any("*" in key for key in content):
        return ()
    if len(set(content) - KEPT) < 2 and not _PERSONS.isdisjoint(said):
        return said
    if len(content) > 1:
        return content
    return tuple(key for key in said if base(key) not in EMPTY or key in TELLING)


def _places(
    tokens: Sequence[Token], start: int, phrase: Phrase, reading: Reading
) -> tuple[int, ...]:
    if len(phrase.keys) == 1:
        return () if phrase.is_alone and not _is_alone(tokens, start) else (start,)
    anchor = phrase.keys.index(tokens[start].key)
    in_order = _in_order(tokens, start, phrase, anchor, reading)
    if in_order or phrase.is_close or len(phrase.keys) > 6:
        return in_order
    return _any_order(tokens, start, phrase, reading)


def _is_alone(tokens: Sequence[Token], place: int) -> bool:
    beside = [token.key for token in tokens if token.segment == tokens[place].segment]
    return EMPTY.issuperset(key for key in beside if key != tokens[place].key)


def _in_order(
    tokens: Sequence[Token], start: int, phrase: Phrase, anchor: int, reading: Reading
) -> tuple[int, ...]:
    before = _walk(tokens, start, phrase.keys[:anchor][::-1], -1, phrase, reading)
    after = _walk(tokens, start, phrase.keys[anchor + 1 :], 1, phrase, reading)
    if before is None or after is None:
        return ()
    return (*before[::-1], start, *after)


def _walk(
    tokens: Sequence[Token],
    start: int,
    wanted: Sequence[str],
    step: int,
    phrase: Phrase,
    reading: Reading,
) -> list[int] | None:
    found: list[int] = []
    place, strangers = start, 0
    for key in wanted:
        while True:
            place += step
            if not 0 <= place < len(tokens):
                return None
            if not _are_joined(tokens[place], tokens[start], phrase, reading):
                return None
            if tokens[place].key == key:
                found.append(place)
                break
            if _may_stand_between(tokens[place], phrase):
                continue
            strangers += 1
            if phrase.is_close or strangers > 1:
                return None
    return found


def _may_stand_between(token: Token, phrase: Phrase) -> bool:
    """Empty words, and a side where the phrase has none of its own."""
    return token.key in EMPTY or (token.key in SIDE_WORDS and not phrase.is_close)


def _any_order(
    tokens: Sequence[Token], start: int, phrase: Phrase, reading: Reading
) -> tuple[int, ...]:
    """The phrase's keys in any order, side by side but for empty words."""
    wanted = list(phrase.keys)
    wanted.remove(tokens[start].key)
    found = [start]
    for step in (-1, 1):
        place = start + step
        while wanted and 0 <= place < len(tokens):
            if not _are_joined(tokens[place], tokens[start], phrase, reading):
                break
            if tokens[place].key in wanted:
                wanted.remove(tokens[place].key)
                found.append(place)
            elif tokens[place].key not in EMPTY:
                break
            place += step
    return () if wanted else tuple(sorted(found))


def _are_joined(one: Token, two: Token, phrase: Phrase, reading: Reading) -> bool:
    if one.segment == two.segment:
        return True
    low, high = sorted((one.segment, two.segment))
    between = reading.breaks[low + 1 : high + 1]
    if phrase.is_close and COMMA in between:
        return False
    return not {STOP, THEN} & set(between) and len(between) <= 2
