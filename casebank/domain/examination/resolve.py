"""Reads what a student says they would do, in their own words, as requests for catalogue steps.

Pure and deterministic: the same catalogue, text and earlier request always give the same answer.
One sentence is answered by ``sentence``; here its readings are compared (words shared by several
parts: ``sharing``, ``distributing``; the request before: ``context``), and the best is told.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from functools import cached_property, lru_cache, partial

from casebank.domain.examination.abbreviations import KNOWN_WORDS
from casebank.domain.examination.alone import Alone
from casebank.domain.examination.answers import Answer
from casebank.domain.examination.composing import composed
from casebank.domain.examination.context import (
    inherited,
    is_better_in_context,
    with_context,
    with_what_stays,
)
from casebank.domain.examination.distributing import (
    PLAINLY_ASKED,
    are_strong,
    distributed,
    is_all,
    is_better_distributed,
)
from casebank.domain.examination.followups import leans_back, may_lean
from casebank.domain.examination.lexicon import COMMON, EMPTY
from casebank.domain.examination.model import Catalogue
from casebank.domain.examination.outright import Outright
from casebank.domain.examination.phrases import PhraseBook
from casebank.domain.examination.pointing import in_two, joined, method_of, tail_of
from casebank.domain.examination.resolution import (
    Earlier,
    Resolution,
    Suggestion,
)
from casebank.domain.examination.sentence import SentenceReader
from casebank.domain.examination.sharing import does_say_then, with_shared_objects
from casebank.domain.examination.spelling import Speller
from casebank.domain.examination.stems import key_of
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.suggest import Suggester
from casebank.domain.examination.tokens import Reading, plain_words, read
from casebank.domain.examination.wordweights import NO_TABLE, WordTable

SURE_ALONE, SURE_SEVERAL, LIKELY_ALONE = 0.8, 0.7, 0.7
"""Least chance with which a text is taken for one request, for several, and where neither is, for
one all the same, before it is read part by part."""
REMEMBERED = 256
"""Texts whose words are kept: one is often read again at once."""
BETTER = 0.05
"""By so much likelier must a reading be that says shared words in each part."""
SURE_AGAIN, NO_MORE = 0.65, 0.15
"""Least chance with which a text is taken for the request before in another way, and most chance
with which it is read as if none had been made."""


class Resolver:
    """A catalogue compiled for reading requests; build once, share freely."""

    def __init__(self, catalogue: Catalogue, table: WordTable = NO_TABLE) -> None:
        self.catalogue = catalogue
        with _collector_paused():
            book = PhraseBook(catalogue)
            self._index = StepIndex(catalogue, book.keys)
        self.sentences = SentenceReader(self._index, book, table)
        self._known = self._index.known_keys | EMPTY | COMMON
        self._read = lru_cache(maxsize=REMEMBERED)(partial(read, correct=self._meant))

    def resolve(
        self,
        text: str,
        previous: Earlier | None = None,
        chosen: Mapping[str, str] | None = None,
    ) -> Resolution:
        """Read ``text``; ``previous`` is the last request, ``chosen`` slots picked by hand.

        Picked slots complete what was said where the step takes them; said words win.
        """
        reading, leans = self.reading(text), self.leans(text)
        earlier = previous if leans else None
        found = self._in_two(reading, earlier) or self._in_one(reading, earlier, chosen or {})
        return replace(found, leans=leans)

    def _in_two(self, reading: Reading, previous: Earlier | None) -> Resolution | None:
        """A text that ends with a mere verb, which goes on from what was said before it."""
        place = tail_of(reading)
        if place is None or self.sentences.is_a_name(reading):
            return None
        before, after = in_two(reading, place)
        first = self._in_two(before, previous) or self._in_one(before, previous, {})
        last = first.requests[-1] if first.requests else None
        if last is None or self.catalogue.steps[last.step].parts:
            return None
        then = self.sentences.pointed(after, last)
        if then is None:
            return None
        answers = [one for one in then.answers if one.is_sure]
        return joined(first, composed(after, answers, self.sentences.grounds, {}))

    def _in_one(
        self, reading: Reading, previous: Earlier | None, chosen: Mapping[str, str]
    ) -> Resolution:
        found = self._outright(reading, previous) or self._in_parts(reading, previous)
        return composed(*found, self.sentences.grounds, chosen)

    def _outright(
        self, reading: Reading, previous: Earlier | None
    ) -> tuple[Reading, Sequence[Answer]] | None:
        """What the words say clearly enough that the text need not be read part by part."""
        whole = self.sentences.heard(reading)
        if whole is None:
            return None
        if previous is not None and previous.step in self._index.number:
            answers, is_apart = self._after(reading, whole, previous)
            if not is_apart:
                return (reading, answers) if answers else None
        one = self.sentences.as_one(reading, whole)
        if one and one.chance >= SURE_ALONE:
            return reading, one.answers
        fuller, several = self._several(reading, whole)
        if several and several.chance >= SURE_SEVERAL:
            return fuller, several.answers
        return (reading, one.answers) if one and one.chance >= LIKELY_ALONE else None

    def _after(
        self, reading: Reading, whole: Alone, previous: Earlier
    ) -> tuple[Sequence[Answer], bool]:
        """What a text asks for that goes on from that request, and whether it stands apart."""
        there = self.sentences.pointed(reading, previous)
        if there:
            return there.answers, False
        same = self.sentences.after(reading, whole, previous)
        if same.chance >= SURE_AGAIN:
            return same.answers, False
        return (), same.chance <= NO_MORE and not leans_back(reading)

    def _several(self, plain: Reading, whole: Alone) -> tuple[Reading, Outright | None]:
        """The likeliest cut of the plain reading and those that say shared words in each part."""
        best = plain, self.sentences.as_several(plain, whole)
        is_clear = best[1] is not None and best[1].chance >= SURE_SEVERAL
        if is_clear or self.sentences.is_a_name(plain):
            return best
        shared = with_shared_objects(plain)
        for reading in (*([shared] if shared else []), *distributed(shared or plain)):
            heard = self.sentences.heard(reading)
            found = self.sentences.as_several(reading, heard) if heard else None
            if found and (best[1] is None or found.chance > best[1].chance + BETTER):
                best = reading, found
        return best

    def _in_parts(self, reading: Reading, previous: Earlier | None) -> tuple[Reading, list[Answer]]:
        """The requests of a sentence cut into parts, each with whether it may be taken."""
        reading, answers = self._best(reading, previous)
        if previous is not None and previous.step in self._index.number:
            reading, answers = self._in_context(reading, answers, previous)
        return reading, self.sentences.judged(answers, reading)

    def _best(self, plain: Reading, previous: Earlier | None) -> tuple[Reading, list[Answer]]:
        """The reading among the plain one and those that say shared words in each part."""
        reading, answers = plain, self.sentences.answers(plain, previous)
        shared = with_shared_objects(plain)
        if shared:
            others = self.sentences.answers(shared, previous)
            if _is_better_shared(others, answers, shared, plain):
                reading, answers = shared, others
        for other in distributed(reading):
            others = self.sentences.answers(other, previous, least=PLAINLY_ASKED)
            if is_better_distributed(others, answers, reading, self._index):
                return other, others
        return reading, answers

    def _in_context(
        self, reading: Reading, answers: list[Answer], previous: Earlier
    ) -> tuple[Reading, list[Answer]]:
        """The same for a text that may lean on the request before."""
        if not leans_back(reading):
            return reading, answers
        fuller = with_context(reading, previous, self._index)
        others = self.sentences.answers(fuller, previous, near=previous.step)
        if not is_better_in_context(others, answers, previous, self._index):
            return reading, with_what_stays(answers, reading, previous, self._index)
        return fuller, inherited(with_what_stays(others, fuller, previous, self._index))

    def reading(self, text: str) -> Reading:
        """The words of a text with their spelling put right."""
        return self._read(text)

    def leans(self, text: str) -> bool:
        """Whether a text may read otherwise after another request: *now the other side*."""
        reading = self.reading(text)
        matches = self.sentences.matches(reading)
        return may_lean(reading, matches) or method_of(reading, matches) is not None

    def suggest(self, prefix: str, limit: int = 8) -> tuple[Suggestion, ...]:
        """Steps whose label or synonym has words beginning with every typed word."""
        return self._suggester.suggest(prefix, limit)

    def _meant(self, word: str) -> tuple[str, ...]:
        return (word,) if key_of(word) in self._known else self._speller.meant(word)

    @cached_property
    def _speller(self) -> Speller:
        """Made at the first word that names nothing: its words are those of every text."""
        return Speller(_vocabulary(self.catalogue))

    @cached_property
    def _suggester(self) -> Suggester:
        return Suggester(self.catalogue)


@contextmanager
def _collector_paused() -> Iterator[None]:
    """Nothing that compiling makes is garbage; looking for some costs a sixth of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _is_better_shared(
    others: Sequence[Answer], answers: Sequence[Answer], shared: Reading, plain: Reading
) -> bool:
    """Whether objects given to several verbs make several sure requests that were not seen."""
    if len({answer.top.slug for answer in others}) < 2:
        return False
    if not are_strong(others):
        return False
    is_one = len(answers) == 1 and answers[0].is_sure and is_all(answers[0], plain)
    return does_say_then(shared) or not is_one


def _vocabulary(catalogue: Catalogue) -> Iterator[str]:
    yield from KNOWN_WORDS
    texts: list[str] = []
    for value in catalogue.values.values():
        texts += (value.label, value.slug, *value.phrases)
    for step in catalogue.steps.values():
        texts += (step.label, step.slug, *step.synonyms, step.looks_for, step.how)
    written = dict.fromkeys(" ".join(texts).split())
    yield from plain_words(" ".join(written))
