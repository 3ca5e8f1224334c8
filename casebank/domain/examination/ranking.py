"""How the parts of one sentence would each be answered: what its division into requests rests on.

Owns the worth of a part. Where the sentence is cut is ``grouping``'s, what a step scores is
``scoring``'s.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from casebank.domain.examination.answers import Answer
from casebank.domain.examination.context import nearness
from casebank.domain.examination.decision import is_sure, with_the_closer_part_first
from casebank.domain.examination.followups import follow_up
from casebank.domain.examination.groups import Group, group_of, keys_of
from casebank.domain.examination.model import Method
from casebank.domain.examination.phrases import Match
from casebank.domain.examination.resolution import Earlier
from casebank.domain.examination.scoring import FULL, Candidate, candidates
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import AND, COMMA, THEN, Reading
from casebank.domain.examination.wordweights import WordWeights

UNSURE = 0.75
"""What a reading that would be asked back is worth when the sentence is divided."""
A_WORD_MORE = 0.1
"""A name that weighs this much more than either part's own spans both parts."""

OF_PART, OF_ALL = 3, 2
"""So many steps for which the words of a part, and of the whole text, speak most are looked at."""


class Ranking:
    """The candidates for every range of segments of one reading, each worked out once."""

    def __init__(
        self,
        reading: Reading,
        matches: Sequence[Match],
        allowed: Sequence[bool],
        index: StepIndex,
        previous: Earlier | None,
        near: str,
        weights: WordWeights,
    ) -> None:
        self._weights = weights
        self._whole = weights.first([token.key for token in reading.tokens], OF_ALL)
        self._near = index.steps.get(near)
        self._reading, self._matches, self._allowed = reading, matches, allowed
        self._index, self._previous = index, previous
        self._known: dict[range, tuple[Group, list[Candidate]]] = {}
        tokens = zip(reading.tokens, allowed, strict=True)
        self.present = sorted({token.segment for token, is_on in tokens if is_on})

    def answer(self, segments: range) -> Answer | None:
        """What becomes of these segments as one request; None where no step is near."""
        group, found = self._ranked(segments)
        return Answer(group, tuple(found), self._is_sure(found)) if found else None

    def worth(self, segments: range) -> tuple[float, float]:
        """How well one request made of these segments is answered, 0-1, and their weight."""
        group, found = self._ranked(segments)
        if not found:
            return 0.0, group.weight
        score = min(1.0, found[0].score)
        score = (score + min(score, found[0].covered)) / 2
        return score * (1.0 if self._is_sure(found) else UNSURE), group.weight

    def are_names(self, one: range, two: range) -> bool:
        """Whether two neighbours are each the whole name of a step, and together no third's.

        Joined by *and*, and not where a name spans both (*bend and straighten the knee*); or, after
        a comma as well, where both are parts of one whole: *wash hands, introduce myself*.
        """
        join = self._reading.breaks[two.start]
        tops = [found[0] for found in (self._ranked(one)[1], self._ranked(two)[1]) if found]
        both = self._ranked(range(one.start, two.stop))[1] if join in (AND, COMMA, THEN) else []
        if len(tops) < 2 or tops[0].slug == tops[1].slug or not both:
            return False
        if not all(top.is_literal and top.known_words and not top.doubts for top in tops):
            return False
        slugs = {top.slug for top in tops}
        if not both[0].is_literal and slugs <= set(self._index.steps[both[0].slug].parts):
            return True
        is_own = both[0].slug in slugs or both[0].lacks_verb
        return is_own and self._are_apart(tops, both[0])

    def _are_apart(self, tops: Sequence[Candidate], both: Candidate) -> bool:
        own = max(top.name_weight for top in tops)
        methods = {self._index.steps[top.slug].method for top in tops}
        is_mixed = Method.TREAT in methods and len(methods) > 1
        is_longer = both.name_weight > own + A_WORD_MORE and both.covered > FULL
        return not is_mixed and (not is_longer or both.lacks_verb)

    def _is_sure(self, found: Sequence[Candidate]) -> bool:
        return is_sure(found, self._index.steps)

    def _ranked(self, segments: range) -> tuple[Group, list[Candidate]]:
        if segments not in self._known:
            group = group_of(self._reading, segments, self._matches, self._allowed, self._index)
            earlier = self._previous if segments.start == self.present[0] else None
            self._known[segments] = (group, self._candidates(group, earlier))
        return self._known[segments]

    def _drawn_near(self, found: list[Candidate]) -> list[Candidate]:
        """The candidates with what they gain by standing near the step given, if any."""
        if self._near is None:
            return found
        steps, near = self._index.steps, self._near
        drawn = [
            replace(one, score=one.score + nearness(steps[one.slug], near, self._index))
            for one in found
        ]
        return sorted(drawn, key=lambda one: (-one.score, one.slug))

    def _candidates(self, group: Group, previous: Earlier | None) -> list[Candidate]:
        also = (*self._weights.first(keys_of(group, self._reading), OF_PART), *self._whole)
        found = self._drawn_near(candidates(self._reading, group, self._index, also))
        fresh = with_the_closer_part_first(found, self._index.steps)
        follow = follow_up(self._reading, group, self._index, previous)
        if follow is None:
            return fresh
        others = [one for one in fresh if one.slug != follow.slug]
        return sorted([follow, *others], key=lambda one: (-one.score, one.slug))
