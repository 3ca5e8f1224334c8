"""What becomes of the answers to the parts of one sentence: which stand, and what they share.

Owns the sentence as a whole. How well one part is answered is ``scoring``'s and ``decision``'s.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from casebank.domain.examination.decision import TAKE
from casebank.domain.examination.doubts import NOT_ORDERED
from casebank.domain.examination.groups import Group
from casebank.domain.examination.lexicon import VERBS
from casebank.domain.examination.model import Method
from casebank.domain.examination.phrases import Match
from casebank.domain.examination.scoring import FULL, Candidate
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import AND, COMMA, THEN, Reading


@dataclass(frozen=True)
class Answer:
    """What became of one group: its candidates, the best first."""

    group: Group
    ranked: tuple[Candidate, ...]
    is_sure: bool

    @property
    def top(self) -> Candidate:
        """The best candidate."""
        return self.ranked[0]


def worth_keeping(answers: list[Answer]) -> list[Answer]:
    """Without vague answers and mere mentions of drugs, where another part was understood."""
    if not any(answer.is_sure for answer in answers):
        return answers
    return [
        answer
        for answer in answers
        if answer.is_sure or (answer.top.score >= TAKE and NOT_ORDERED not in answer.top.doubts)
    ]


def without_details(answers: list[Answer], reading: Reading, index: StepIndex) -> list[Answer]:
    """Without parts that only add a detail to what was asked: *look for burrows, any mites?*

    Such a part has no verb, follows a comma or a stop, and is no whole name, or one whose words
    all name the step before.
    """
    kept: list[Answer] = []
    for answer in answers:
        if kept and _is_detail(answer, kept[-1], reading, index):
            continue
        kept.append(answer)
    return kept


def _is_detail(answer: Answer, before: Answer, reading: Reading, index: StepIndex) -> bool:
    kind = reading.breaks[reading.tokens[answer.group.places[0]].segment]
    keys = _keys(answer, reading)
    if not before.is_sure or kind == THEN or keys & VERBS.keys():
        return False
    if not answer.top.is_literal and answer.top.named < FULL:
        return True
    if kind == AND:
        return _completes_a_name(answer, before, reading, index)
    this, that = (index.entries[index.number[one.top.slug]] for one in (answer, before))
    if this.step.method is that.step.method:
        return False
    return keys <= that.named_by


def _completes_a_name(answer: Answer, before: Answer, reading: Reading, index: StepIndex) -> bool:
    """Whether a name of the step before ends here: *look at his legs for scars and ulcers*.

    Two questions are a list, however near: *nausea and vomiting*.
    """
    number = index.number[before.top.slug]
    this = index.entries[index.number[answer.top.slug]].step.method
    if this is Method.ASK is index.entries[number].step.method:
        return False
    keys = _keys(answer, reading)
    said = keys | _keys(before, reading)
    names = (index.phrases[n] for key in keys for n in index.by_key.get(key, ()))
    return any(name.step == number and keys <= name.keys <= said for name in names)


def _keys(answer: Answer, reading: Reading) -> set[str]:
    return {reading.tokens[place].key for place in answer.group.content}


def with_shared_manner(
    answers: list[Answer], reading: Reading, matches: Sequence[Match], index: StepIndex
) -> list[Answer]:
    """What ends a list after a comma holds for all of it: *knee and ankle jerks, both sides*."""
    if len(answers) < 2:
        return answers
    last = answers[-1].group
    segment = reading.tokens[last.places[-1]].segment
    places = {p for p in last.content if reading.tokens[p].segment == segment}
    shared = [match for match in matches if places.issuperset(match.places)]
    explained = {place for match in shared for place in match.places}
    is_comma = reading.breaks[segment] == COMMA
    if not is_comma or explained != places or len(places) == len(last.content):
        return answers
    values = {match.value for match in shared}
    return [*(_told(answer, values, index) for answer in answers[:-1]), answers[-1]]


def _told(answer: Answer, values: set[tuple[str, str]], index: StepIndex) -> Answer:
    takes = index.entries[index.number[answer.top.slug]].takes
    extra = dict(sorted(values & takes))
    techniques = tuple({**extra, **said} for said in answer.top.said.techniques)
    top = replace(answer.top, said=replace(answer.top.said, techniques=techniques))
    return replace(answer, ranked=(top, *answer.ranked[1:]))
