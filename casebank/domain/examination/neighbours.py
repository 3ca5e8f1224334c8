"""Settles what a word may mean by what is asked for beside it: *temp and weight*, not weight loss.

Owns ties between steps that are named alike. Which part of a sentence stands is ``keeping``'s.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from casebank.domain.examination.answers import Answer
from casebank.domain.examination.context import nearness
from casebank.domain.examination.stepindex import StepIndex

TIE = 0.03
"""Candidates whose scores differ by less are named alike."""
ALIKE = 0.1
"""What it adds to nearness that two steps are done in the same way."""


def with_ties_by_neighbours(answers: Sequence[Answer], index: StepIndex) -> list[Answer]:
    """The answers, ties among their best candidates settled by the sure answers beside them."""
    sure = [one for one in answers if one.is_sure]
    return [one if one.is_sure else _settled(one, sure, index) for one in answers]


def _settled(answer: Answer, sure: Sequence[Answer], index: StepIndex) -> Answer:
    tied = [one for one in answer.ranked if answer.top.score - one.score < TIE]
    if len(tied) < 2 or not sure or not all(one.is_literal and not one.doubts for one in tied):
        return answer
    near = {one.slug: _nearest(one.slug, sure, index) for one in tied}
    best = max(near.values())
    chosen = [one for one in tied if near[one.slug] == best]
    if len(chosen) > 1 or best == 0:
        return answer
    rest = tuple(one for one in answer.ranked if one is not chosen[0])
    return replace(answer, ranked=(chosen[0], *rest), is_sure=True)


def _nearest(slug: str, sure: Sequence[Answer], index: StepIndex) -> float:
    step = index.steps[slug]
    beside = [index.steps[one.top.slug] for one in sure]
    return max(nearness(step, one, index) + ALIKE * (one.method is step.method) for one in beside)
