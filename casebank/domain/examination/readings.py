"""Reads free words as what a perceived sign is said to be: names of signs and their features.

Deterministic, and knows no case. As on the request line, doubtful words are asked back and words
not used are said.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from casebank.domain.examination.reading_phrases import DENIALS, Found, Phrasebook, Word
from casebank.domain.examination.statements import Said, Stated, completed
from casebank.domain.examination.vocabulary import SIGN, Vocabulary


@dataclass(frozen=True)
class SignReading:
    """What a text says: its statements, ways to say it without doubt, and words not used.

    With ``choices`` the text is in doubt and is to be asked back; each choice is a whole new text.
    """

    stated: tuple[Stated, ...] = ()
    choices: tuple[str, ...] = ()
    unused: tuple[str, ...] = ()


class SignReader:
    """Reads words by one vocabulary; build it once."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self._book = Phrasebook(vocabulary)

    def read(self, text: str, families: Collection[str] = ()) -> SignReading:
        """What the text says of a sign of one of these families (none given: of any)."""
        words = self._book.words(text)
        found = [self._fitting(one, families) for one in self._book.find(words)]
        meant = [one for one in found if one.meanings and not self._is_denied(one, words)]
        unused = tuple(self._unused(words, found))
        choices = self._choices(meant, words)
        if choices:
            return SignReading(choices=choices, unused=unused)
        return SignReading(tuple(self._stated(meant, words)), unused=unused)

    def _fitting(self, found: Found, families: Collection[str]) -> Found:
        """The phrase with the meanings that a sign of these families can have."""
        if not families:
            return found
        fitting = tuple(m for m in found.meanings if self._families_of(m) & set(families))
        return replace(found, meanings=fitting)

    def _families_of(self, meaning: tuple[str, str]) -> set[str]:
        feature, value = meaning
        if feature == SIGN:
            return {self.vocabulary.signs[value].family}
        return set(self.vocabulary.features[feature].families)

    @staticmethod
    def _is_denied(found: Found, words: list[Word]) -> bool:
        """A denial reaches to the end of its clause; inside a phrase it is part of the name."""
        clause = words[found.start].clause
        before = words[: found.start]
        return any(word.clause == clause and word.key in DENIALS for word in before)

    def _unused(self, words: list[Word], found: list[Found]) -> Iterator[str]:
        used = {place for one in found if one.meanings for place in range(one.start, one.end)}
        for place, word in enumerate(words):
            if place not in used and not self._book.is_idle(word):
                yield word.text

    # ---- doubts
    def _choices(self, meant: list[Found], words: list[Word]) -> tuple[str, ...]:
        """Whole texts to choose from: for a phrase of several signs, or two joined by *or*."""
        for one in meant:
            names = [value for feature, value in one.meanings if feature == SIGN]
            if len(names) > 1:
                labels = (self.vocabulary.label(SIGN, name) for name in names)
                return tuple(_with(words, one.start, one.end, label) for label in labels)
        for one, two in pairwise(meant):
            if [word.key for word in words[one.end : two.start]] == ["or"]:
                return _either(one, two, words)
        return ()

    # ---- putting together
    def _stated(self, meant: list[Found], words: list[Word]) -> Iterator[Stated]:
        """The statements: features belong to a sign of their clause, else to one before."""
        drafts: list[Said] = []
        waiting: Said = {}
        for _, clause in groupby(self._meanings(meant, words), key=lambda said: said[0]):
            said = [(feature, value) for _, feature, value in clause]
            first = next((n for n, one in enumerate(said) if one[0] == SIGN), len(said))
            for feature, value in [*said[first : first + 1], *said[:first], *said[first + 1 :]]:
                if feature == SIGN:
                    drafts.append(waiting)
                    waiting = {}
                draft = next((d for d in reversed(drafts) if self._takes(d, feature)), waiting)
                draft.setdefault(feature, {})[value] = None
        if waiting:
            drafts.append(waiting)
        return (completed(draft, self.vocabulary) for draft in drafts)

    def _meanings(self, meant: list[Found], words: list[Word]) -> Iterator[tuple[int, str, str]]:
        """Clause, feature and value of each phrase; cues say which of two features is meant."""
        announced = ""
        before = 0
        for one in meant:
            for word in words[before : one.start]:
                announced = self._book.cues.get(word.key, announced)
            before = one.end
            feature, value = next((m for m in one.meanings if m[0] == announced), one.meanings[0])
            yield words[one.start].clause, feature, value

    def _takes(self, draft: Said, feature: str) -> bool:
        """Whether the sign of the draft can have the feature."""
        families = set(self.vocabulary.features[feature].families)
        names = draft.get(SIGN, {})
        return not names or any(self.vocabulary.signs[n].family in families for n in names)


def _either(one: Found, two: Found, words: list[Word]) -> tuple[str, ...]:
    """The text with the one and with the other; *systolic or diastolic murmur* shares its noun."""
    shared = "" if _features_of(one) & _features_of(two) else f" {words[two.end - 1].text}"
    first = _said(words, one.start, one.end) + shared
    second = _said(words, two.start, two.end)
    return tuple(_with(words, one.start, two.end, said) for said in (first, second))


def _features_of(found: Found) -> set[str]:
    return {feature for feature, _ in found.meanings}


def _said(words: list[Word], start: int, end: int) -> str:
    return " ".join(word.text for word in words[start:end])


def _with(words: Sequence[Word], start: int, end: int, instead: str) -> str:
    """The text with some words replaced."""
    before = [word.text for word in words[:start]]
    after = [word.text for word in words[end:]]
    instead = instead if instead[1:2].isdigit() else instead[0].lower() + instead[1:]
    return " ".join([*before, instead, *after])
