"""Reads one sentence: cuts it into parts, answers each, and keeps those that are requests.

Owns the order of these steps. Other readings of the same words are ``resolve``'s to compare.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from casebank.domain.examination.affinity import Affinity
from casebank.domain.examination.alone import Alone, alone
from casebank.domain.examination.answers import (
    Answer,
    is_remark,
    with_positions_as_manner,
    with_shared_manner,
    with_stray_manner,
    with_values_as_manner,
    without_parts_of_wholes,
)
from casebank.domain.examination.choosing import Grounds, chosen
from casebank.domain.examination.decision import is_worth_asking
from casebank.domain.examination.goingon import Turn, going_on, turn
from casebank.domain.examination.grouping import costs, divide
from casebank.domain.examination.keeping import LEAST, kept
from casebank.domain.examination.kinship import telling
from casebank.domain.examination.lexicon import is_idle
from casebank.domain.examination.negation import allowed_tokens
from casebank.domain.examination.neighbours import with_ties_by_neighbours
from casebank.domain.examination.outright import (
    Outright,
    Usable,
    as_one,
    as_several,
    is_a_name,
)
from casebank.domain.examination.phrases import Match, PhraseBook
from casebank.domain.examination.places import with_shared_places
from casebank.domain.examination.pointing import pointed
from casebank.domain.examination.ranking import Ranking
from casebank.domain.examination.resolution import Earlier
from casebank.domain.examination.settling import settled, with_side_meant
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading, literal
from casebank.domain.examination.trusting import judged, trust
from casebank.domain.examination.wordweights import NO_TABLE, WordTable, WordWeights

LIKELY, MOSTLY = 0.5, 0.75
"""A reading of which no name is near is worth asking about from this chance on, and where this
share of the words was met before."""
NAMED = 0.99
"""The chance of a step of which a text is a name, word for word."""
REMEMBERED = 32
"""Readings whose technique is kept: one reading is looked at whole, cut and in parts."""


class SentenceReader:
    """Answers the parts of a sentence by one catalogue; build once, share freely."""

    def __init__(self, index: StepIndex, book: PhraseBook, table: WordTable = NO_TABLE) -> None:
        weights = WordWeights(table, [entry.step.slug for entry in index.entries])
        self.index, self.grounds = index, Grounds(index, Affinity(index), weights)
        self.matches = lru_cache(maxsize=REMEMBERED)(book.matches)
        """The values of technique that the words of a reading may say."""
        self._usable = lru_cache(maxsize=REMEMBERED)(self._work_out)

    def answers(
        self,
        reading: Reading,
        previous: Earlier | None = None,
        near: str = "",
        least: float = LEAST,
    ) -> list[Answer]:
        """The requests of a sentence in order, each with whether it may be taken."""
        usable = self._usable(reading)
        parts = self._parts(reading, usable, previous, near)
        found = without_parts_of_wholes(kept(parts, reading, self.grounds, least), self.index)
        found = with_stray_manner(found, reading, usable.matches, self.index)
        return self._shared(found, reading, usable)

    def _shared(self, answers: list[Answer], reading: Reading, usable: Usable) -> list[Answer]:
        """The answers with what is told of one of them and holds for others."""
        found = with_shared_manner(answers, reading, usable.matches, self.index)
        return with_shared_places(found, reading, self.index)

    def heard(self, reading: Reading) -> Alone | None:
        """The step for which all words together speak most; None without words or a table."""
        return alone(reading, self.grounds)

    def as_one(self, reading: Reading, whole: Alone) -> Outright | None:
        """All words as one request; None where it is unlikely or in doubt."""
        whole = self._named(reading) or whole
        usable = self._with_side(reading, whole.step)
        found = as_one(reading, usable, self.grounds, whole)
        return found and self._undoubted(found, reading)

    def _named(self, reading: Reading) -> Alone | None:
        """The only step of which the text is a name, word for word."""
        named = self._word_for_word(reading)
        return Alone(next(iter(named)), NAMED) if len(named) == 1 else None

    def _word_for_word(self, reading: Reading) -> frozenset[int]:
        """The numbers of the steps of which the text is a name, word for word."""
        said = tuple(token.key for token in reading.tokens)
        return self.index.word_for_word.get(said, frozenset())

    def is_a_name(self, reading: Reading) -> bool:
        """Whether a text is the name of a step, and so never several requests."""
        return is_a_name(reading, self.index)

    def as_several(self, reading: Reading, whole: Alone) -> Outright | None:
        """The text cut into several requests; None where that is unlikely or in doubt."""
        usable = self._usable(reading)
        found = as_several(reading, usable, self.grounds, whole)
        if found is None:
            return None
        answers = without_parts_of_wholes(list(found.answers), self.index)
        answers = self._shared(with_positions_as_manner(answers, self.index), reading, usable)
        return self._undoubted(replace(found, answers=tuple(answers)), reading)

    def _with_side(self, reading: Reading, step: int) -> Usable:
        """What may be used of a reading for a request of that step, on the side that is meant."""
        usable = self._usable(reading)
        return with_side_meant(usable, self.matches(reading), reading, step, self.grounds)

    def _undoubted(self, found: Outright, reading: Reading) -> Outright | None:
        """The same on the side that is meant; None where that is not clear."""
        answers = settled(found.answers, self.matches(reading), reading, self.grounds)
        return replace(found, answers=tuple(answers)) if all(a.is_sure for a in answers) else None

    def turn(self, reading: Reading, whole: Alone, previous: Earlier) -> Turn:
        """A text as one that may go on from the request before."""
        usable = self._with_side(reading, self.index.number[previous.step])
        return turn(reading, usable, self.grounds, whole, previous)

    def after(self, reading: Reading, whole: Alone, previous: Earlier) -> Outright:
        """The request before in another way, with the chance that it is what is asked for."""
        return going_on(self.turn(reading, whole, previous), self.grounds)

    def pointed(self, reading: Reading, previous: Earlier) -> Outright | None:
        """The step that a mere verb asks for after that request: *now listen there*."""
        return pointed(reading, self._usable(reading), self.grounds, previous)

    def judged(self, answers: Sequence[Answer], reading: Reading) -> list[Answer]:
        """The answers on the side that is meant, each with whether it may be taken by all its
        traits."""
        on_side = settled(answers, self.matches(reading), reading, self.grounds)
        return [judged(one, reading, self.grounds) for one in on_side]

    def parts(self, reading: Reading, previous: Earlier | None = None) -> list[Answer]:
        """What each part of the sentence would be answered, request or not."""
        return self._parts(reading, self._usable(reading), previous, "")

    def _parts(
        self,
        reading: Reading,
        usable: Usable,
        previous: Earlier | None,
        near: str,
    ) -> list[Answer]:
        weights, matches, allowed = self.grounds.weights, usable.matches, usable.allowed
        ranking = Ranking(reading, matches, allowed, self.index, previous, near, weights)
        price = costs(reading, self._tied(reading, matches))
        if self._word_for_word(reading):
            found = [range(len(reading.breaks))]
        else:
            found = divide(ranking.present, ranking.worth, price, ranking.are_names)
        answers = [ranking.answer(segments) for segments in found]
        if not near:
            answers = [one and chosen(one, reading, self.grounds) for one in answers]
        worthy = self._worthy([one for one in answers if one], reading)
        settled = with_ties_by_neighbours(worthy, self.index)
        manner = with_values_as_manner(settled, reading, matches, self.index)
        return with_positions_as_manner(manner, self.index)

    def _worthy(self, answers: Sequence[Answer], reading: Reading) -> list[Answer]:
        """Those of which a name is near; where there are none, those that the words spoke for in
        texts that were understood."""
        named = [one for one in answers if is_worth_asking(one.top)]
        return named or [one for one in answers if self._is_likely(one, reading)]

    def _is_likely(self, answer: Answer, reading: Reading) -> bool:
        said = telling(answer, reading)
        known = sum(self.grounds.weights.knows(key) for key in said)
        is_known = bool(said) and known >= MOSTLY * len(said)
        return is_known and trust(answer, reading, self.grounds) >= LIKELY

    def _work_out(self, reading: Reading) -> Usable:
        """The matches that are neither denied nor remarks, and which tokens may be used."""
        matches = self.matches(reading)
        allowed = allowed_tokens(reading, matches, self.index)
        usable = [
            match
            for match in matches
            if all(allowed[place] and reading.tokens[place].words for place in match.places)
            and not is_remark(match, reading)
        ]
        return Usable(usable, allowed)

    def _tied(self, reading: Reading, matches: Sequence[Match]) -> frozenset[int]:
        """Segments that belong to the one before: joined by a phrase, or nothing but manner."""
        spans = [{reading.tokens[place].segment for place in match.places} for match in matches]
        joined = {segment for span in spans for segment in span if segment > min(span)}
        manner = {place for match in matches if match.slot != "site" for place in match.places}
        parts: dict[int, list[int]] = {}
        for place, token in enumerate(reading.tokens):
            parts.setdefault(token.segment, []).append(place)
        of_manner = {
            segment
            for segment, places in parts.items()
            if manner.issuperset(p for p in places if not is_idle(reading.tokens[p].key))
            and literal(reading.tokens[p].key for p in places) not in self.index.literals
        }
        return frozenset(joined | of_manner)
