"""What becomes of the answers to the parts of one sentence: which stand, and what they share.

Owns the sentence as a whole. How well one part is answered is ``scoring``'s and ``decision``'s.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from casebank.domain.examination.decision import TAKE
from casebank.domain.examination.doubts import NOT_ORDERED
from casebank.domain.examination.groups import Group
from casebank.domain.examination.lexicon import AIMS, POSITIONS, PURPOSES, STATED, VERBS
from casebank.domain.examination.model import Method
from casebank.domain.examination.phrases import Match
from casebank.domain.examination.scoring import FULL, Candidate
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import AND, ASIDE, COMMA, JOINS, QUERY, THEN, Reading


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


def without_asides(answers: list[Answer], reading: Reading, index: StepIndex) -> list[Answer]:
    """Without what only explains a request that stands beside it, and no part named with its whole.

    An aside follows a colon or a dash (*the fit: tongue biting, incontinence*), is the diagnosis
    asked about (*ultrasound ?cyst*), or tells how the patient is (*he's fitting*). It stands where
    nothing else was understood.
    """
    single = [one for one in answers if not _parts(one.top.slug, index)]
    asides = {id(one) for one in answers if _is_aside(one, single, reading)}
    main = [one for one in answers if one.is_sure and id(one) not in asides]
    if not main:
        return answers
    parts = {part for one in main for part in _parts(one.top.slug, index)}
    if any(_is_of_another_complaint(one, index) for one in main):
        parts |= {one.top.slug for one in main if not one.top.is_literal} & _dimensions(index)
    kept = [one for one in answers if id(one) not in asides]
    kept = _without_purposes(kept, reading)
    return [one for one in kept if one.top.slug not in parts]


def _without_purposes(answers: list[Answer], reading: Reading) -> list[Answer]:
    """Without what is only looked for by the request before: *CSF for cells and protein*."""
    kept: list[Answer] = []
    is_open = False
    for answer in answers:
        kind = reading.breaks[_segment(answer.group.places[0], reading)]
        if is_open and kind in (COMMA, *JOINS) and not _keys(answer, reading) & VERBS.keys():
            continue
        kept.append(answer)
        is_open = answer.is_sure and _has_purpose(answer, reading)
    return kept


def _has_purpose(answer: Answer, reading: Reading) -> bool:
    """Whether words of purpose follow the name of what is asked for."""
    named, told = answer.top.name_places, answer.top.said.places
    if not named or answer.top.named < FULL:
        return False
    keys = [token.key for token in reading.tokens]
    after = [p for p in answer.group.places if p > max(named) and p + 1 not in told]
    return any(
        keys[p] in PURPOSES or (keys[p] == "to" and keys[p + 1 : p + 2] in AIMS) for p in after
    )


def _parts(slug: str, index: StepIndex) -> tuple[str, ...]:
    return index.steps[slug].parts if slug in index.steps else ()


def _dimensions(index: StepIndex) -> set[str]:
    """The questions that any complaint is asked about: its onset, what makes it worse."""
    return set(_parts("complaint-in-full", index))


def _is_of_another_complaint(answer: Answer, index: StepIndex) -> bool:
    slug = answer.top.slug
    return index.steps[slug].method is Method.ASK and slug not in _dimensions(index)


def _is_aside(answer: Answer, single: Sequence[Answer], reading: Reading) -> bool:
    """Not where a ``single`` step goes on over the colon: *bloods: FBC, U&E and CRP* is a list."""
    place = answer.group.places[0]
    segment = reading.tokens[place].segment
    if reading.breaks[segment] == QUERY or reading.tokens[place].key in STATED:
        return True
    while segment and reading.breaks[segment] in (COMMA, *JOINS):
        segment -= 1
    if reading.breaks[segment] != ASIDE:
        return False
    return not any(segment in _segments(one, reading)[1:] for one in single)


def _segments(answer: Answer, reading: Reading) -> list[int]:
    return sorted({_segment(place, reading) for place in answer.group.places})


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
    if kind in JOINS:
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
    if not is_comma:
        return _with_shared_instrument(answers, reading, index)
    if explained != places or len(places) == len(last.content):
        return answers
    values = {match.value for match in shared}
    return [*(_told(answer, values, index) for answer in answers[:-1]), answers[-1]]


def _with_shared_instrument(
    answers: list[Answer], reading: Reading, index: StepIndex
) -> list[Answer]:
    """An instrument told of the second of two holds for both: *Rinne and Weber, 512 fork*."""
    *before, last = answers
    told = last.top.said.techniques[0].get("instrument") if last.top.said.techniques else None
    if told is None or reading.breaks[_segment(last.group.places[0], reading)] != AND:
        return answers
    value = {("instrument", told)}
    return [*(_told(answer, value, index) for answer in before), last]


def with_stray_manner(
    answers: list[Answer], reading: Reading, matches: Sequence[Match], index: StepIndex
) -> list[Answer]:
    """Manner told in a part of the sentence that asks for nothing is that of the request before.

    *Finger up the back passage, left lateral with the knees up*: the second part is no request.
    How the patient is (*he's weak on the left*, *?left basal pneumonia*) is no manner.
    """
    taken = {_segment(place, reading) for one in answers for place in one.group.places}
    stray = [match for match in matches if _is_stray(match, taken, reading)]
    out = list(answers)
    for match in reversed(stray):
        before = [n for n, one in enumerate(out) if one.group.places[0] < match.places[0]]
        if out:
            number = before[-1] if before else 0
            out[number] = _told(out[number], {match.value}, index)
    return out


def is_remark(match: Match, reading: Reading) -> bool:
    """Whether a side is told of the patient, not of the request: *power, he's weak on the left*."""
    return match.slot == "side" and _is_stated(_segment(match.places[0], reading), reading)


def _is_stated(segment: int, reading: Reading) -> bool:
    """Whether a part of the sentence tells how the patient is."""
    first = next(token for token in reading.tokens if token.segment == segment)
    return first.key in STATED


def _is_stray(match: Match, taken: set[int], reading: Reading) -> bool:
    segments = {_segment(place, reading) for place in match.places}
    if segments & taken:
        return False
    segment = min(segments)
    return reading.breaks[segment] != QUERY and not _is_stated(segment, reading)


def _segment(place: int, reading: Reading) -> int:
    return reading.tokens[place].segment


def with_positions_as_manner(answers: list[Answer], index: StepIndex) -> list[Answer]:
    """Without sitting up or laying flat where what is asked next is done in that posture.

    Elsewhere it is a treatment: *sit him up and give oxygen*, *sit him up and check his sats*.
    """
    kept: list[Answer] = []
    for answer in answers:
        posture = _posture_before(kept)
        if posture and posture in _takes(answer, index):
            kept[-1] = _told(answer, {posture}, index)
        else:
            kept.append(answer)
    return kept


def _posture_before(kept: Sequence[Answer]) -> tuple[str, str] | None:
    """The posture that the last answer puts the patient in, if that is all it does."""
    slug = kept[-1].top.slug if kept else ""
    return ("posture", POSITIONS[slug]) if slug in POSITIONS else None


def _takes(answer: Answer, index: StepIndex) -> frozenset[tuple[str, str]]:
    return index.entries[index.number[answer.top.slug]].takes


def _told(answer: Answer, values: set[tuple[str, str]], index: StepIndex) -> Answer:
    extra = dict(sorted(values & _takes(answer, index)))
    techniques = tuple({**extra, **said} for said in answer.top.said.techniques)
    top = replace(answer.top, said=replace(answer.top.said, techniques=techniques))
    return replace(answer, ranked=(top, *answer.ranked[1:]))
