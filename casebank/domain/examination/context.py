"""Reads a text in the light of the request before: *and the ankle* after a knee jerk.

A text that leans back leaves out what was just said. It is read once more with the words of the
earlier step's label beside it, and steps near the earlier one are likelier. What it does not say
of side, site and posture stays as it was, where it points there. That the same step is asked for
again is ``followups``'s.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from casebank.domain.examination.answers import Answer
from casebank.domain.examination.followups import points_back
from casebank.domain.examination.model import Step
from casebank.domain.examination.resolution import Earlier
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading, Token

STAYING = ("side", "site", "posture")
"""Slots that stay as they were where a text points back."""
SIBLING, NEAR, DISTANT = 0.12, 0.08, 0.03
"""What it adds to a reading that its step is part of one whole with the earlier step, or of the
same region, or of the same system."""


def with_context(reading: Reading, previous: Earlier, index: StepIndex) -> Reading:
    """The reading with the telling words of the earlier label, as tokens of no written word."""
    said = {token.key for token in reading.tokens}
    first = reading.tokens[0]
    label = sorted(index.label_keys(previous.step) - said)
    silent = [Token(key, (), first.clause, first.segment) for key in label]
    return replace(reading, tokens=(*reading.tokens, *silent))


def nearness(one: Step, two: Step, index: StepIndex) -> float:
    """What a step gains by standing near another."""
    if index.wholes_of(one.slug) & index.wholes_of(two.slug):
        return SIBLING
    if one.region == two.region:
        return NEAR
    return DISTANT if one.system == two.system else 0.0


def is_better_in_context(
    other: Sequence[Answer], plain: Sequence[Answer], previous: Earlier, index: StepIndex
) -> bool:
    """Whether the reading in context is one sure request near the earlier one, and the plain
    reading is in doubt, further off, or of nothing but a place."""
    if len(other) != 1 or not other[0].is_sure or other[0].top.inherits:
        return False
    earlier = index.steps[previous.step]
    near = nearness(index.steps[other[0].top.slug], earlier, index)
    if len(plain) != 1 or not plain[0].is_sure:
        return near > 0
    if plain[0].top.slug == other[0].top.slug or plain[0].top.inherits:
        return False
    return near > nearness(index.steps[plain[0].top.slug], earlier, index)


def inherited(answers: Sequence[Answer]) -> list[Answer]:
    """The answers marked as resting on the request before."""
    return [
        replace(one, ranked=(replace(one.top, inherits=True), *one.ranked[1:])) for one in answers
    ]


def with_what_stays(
    answers: Sequence[Answer], reading: Reading, previous: Earlier, index: StepIndex
) -> list[Answer]:
    """The answers with the side, site and posture of the request before where they stay."""
    if not answers or answers[0].top.inherits:
        return list(answers)
    earlier, step = index.steps[previous.step], index.steps[answers[0].top.slug]
    stays = earlier is not step and _is_beside(step, earlier, index)
    if stays and not points_back(reading):
        stays = earlier.method is step.method
    return [in_place_of(answers[0], previous, index), *answers[1:]] if stays else list(answers)


def _is_beside(one: Step, two: Step, index: StepIndex) -> bool:
    """Whether two steps are of one region or one whole, or one is part of the other."""
    is_part = one.slug in two.parts or two.slug in one.parts
    return is_part or nearness(one, two, index) >= NEAR


def in_place_of(answer: Answer, previous: Earlier, index: StepIndex) -> Answer:
    """The answer with the side, site and posture of the request before, where its step takes them;
    what it was told stays."""
    takes = index.entries[index.number[answer.top.slug]].takes
    kept = {s: v for s, v in previous.technique.items() if s in STAYING and (s, v) in takes}
    told = tuple({**kept, **technique} for technique in answer.top.said.techniques)
    top = replace(answer.top, said=replace(answer.top.said, techniques=told))
    return replace(answer, ranked=(top, *answer.ranked[1:]))
