"""A side or site told of one request of a sentence, where it holds for those beside it.

*Phalen and Tinel, right wrist*; *touch then pin in both feet*; *right knee: tap and sweep*;
*percuss the left base, then listen there*.
"""

from __future__ import annotations

from collections.abc import Sequence

from casebank.domain.examination.answers import Answer, also_told, break_before, segment_of
from casebank.domain.examination.lexicon import VERBS
from casebank.domain.examination.phrases import Value
from casebank.domain.examination.stems import keys_in
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import AND, COMMA, THEN, Reading

PLACES = ("side", "site")
ONE_SIDE = frozenset({("side", "left"), ("side", "right")})
_LISTS = frozenset({AND, COMMA})
SHORT = 3
"""Most telling words of a part that waits for the next one to tell its place."""
_POINTING = keys_in("that same there it them those")
_NOTHING: frozenset[Value] = frozenset()


def with_shared_places(
    answers: Sequence[Answer], reading: Reading, index: StepIndex
) -> list[Answer]:
    """The answers of a sentence, each with the side and site that its neighbours tell of it."""
    out = list(answers)
    ending = _NOTHING
    for number in range(len(out) - 2, -1, -1):
        this, after = out[number], out[number + 1]
        if _ends_with_place(after):
            ending = _places_said(after)
        if break_before(after, reading) not in _LISTS or not _is_alike(this, after, index):
            ending = _NOTHING
        out[number] = _placed(this, ending or _of_next(this, after, reading, index), index)
    for number in range(1, len(out)):
        values = _of_last(out[number - 1], out[number], reading, index)
        out[number] = _placed(out[number], values, index)
    return out


def _of_next(this: Answer, after: Answer, reading: Reading, index: StepIndex) -> frozenset[Value]:
    """What the next one in the same region says that holds for this one: where both are done
    alike, or it is said at the end. All of it for a mere verb: *percuss, then listen at the base*.
    """
    kind, is_end = break_before(after, reading), _ends_with_place(after)
    if kind in (AND, THEN) and _is_mere_verb(this, reading):
        return _places_said(after)
    if not _is_of_one_region(this, after, index) or kind not in (*_LISTS, THEN):
        return _NOTHING
    is_like = _is_alike(this, after, index)
    holds = (is_like or is_end) if kind in _LISTS else (is_like and is_end and _is_short(this))
    return _places_said(after) if holds else _NOTHING


def _of_last(before: Answer, this: Answer, reading: Reading, index: StepIndex) -> frozenset[Value]:
    """What the one before says that holds for this one, too: all of it where a word points back,
    and one side in a list of what is done alike or in one region."""
    if _points(this, reading):
        return _places_said(before)
    is_near = _is_of_one_region(before, this, index) or _is_alike(before, this, index)
    is_listed = break_before(this, reading) in _LISTS
    return _places_said(before) & ONE_SIDE if is_listed and is_near else _NOTHING


def _placed(answer: Answer, values: frozenset[Value], index: StepIndex) -> Answer:
    known = {slot for said in answer.top.said.techniques for slot in said}
    return also_told(answer, {value for value in values if value[0] not in known}, index)


def _places_said(answer: Answer) -> frozenset[Value]:
    """The side and the site that an answer says, if it says one of each."""
    found = {slot: {said.get(slot) for said in answer.top.said.techniques} for slot in PLACES}
    return frozenset(
        (slot, value) for slot, few in found.items() if len(few) == 1 for value in few if value
    )


def _ends_with_place(answer: Answer) -> bool:
    """Whether a side or site is said after the name: *hoffman's and plantars both sides*."""
    named, said = answer.top.name_places, answer.group.matches
    told = [place for match in said if match.slot in PLACES for place in match.places]
    return bool(named and told) and max(told) > max(named)


def _is_mere_verb(answer: Answer, reading: Reading) -> bool:
    return all(reading.tokens[place].key in VERBS for place in answer.group.content)


def _is_short(answer: Answer) -> bool:
    return len(answer.group.content) <= SHORT


def _is_alike(one: Answer, two: Answer, index: StepIndex) -> bool:
    here, there = (index.steps[each.top.slug] for each in (one, two))
    return here.system == there.system and here.method is there.method


def _is_of_one_region(one: Answer, two: Answer, index: StepIndex) -> bool:
    here, there = (index.steps[each.top.slug] for each in (one, two))
    return here.region == there.region


def _points(answer: Answer, reading: Reading) -> bool:
    """Whether a part says *that*, *same* or *there*: of the place before it."""
    segments = {segment_of(place, reading) for place in answer.group.places}
    said = {token.key for token in reading.tokens if token.segment in segments}
    return not said.isdisjoint(_POINTING)
