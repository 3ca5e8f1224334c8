"""Puts the answers to a text together as what is told of it: requests or offers, the words that
they rest on, and those not used.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from casebank.domain.examination.answers import Answer
from casebank.domain.examination.choosing import Grounds, fair
from casebank.domain.examination.decision import confidence
from casebank.domain.examination.lexicon import EMPTY, FOLLOW_MARKERS, VERBS
from casebank.domain.examination.resolution import Resolution, ResolvedRequest, Status
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading


def composed(
    reading: Reading, answers: Sequence[Answer], grounds: Grounds, chosen: Mapping[str, str]
) -> Resolution:
    """What a text asks for; slots ``chosen`` by hand complete what was said."""
    unused = _unused(reading, answers)
    if not answers:
        return Resolution(Status.NOT_UNDERSTOOD, not_understood=unused)
    unsure = [answer for answer in answers if not answer.is_sure]
    if unsure:
        offers = tuple(_offers(reading, unsure[0], grounds))
        return Resolution(Status.ASK_BACK, (), offers, unused)
    requests = [one for answer in answers for one in _taken(reading, answer, 0)]
    told = tuple(_completed(one, chosen, grounds.index) for one in _merged(requests))
    return Resolution(Status.UNDERSTOOD, told, (), unused)


def _taken(reading: Reading, answer: Answer, place: int) -> Iterator[ResolvedRequest]:
    candidate = answer.ranked[place]
    sure = confidence(answer.ranked, place)
    if place == 0 and answer.chance is not None:
        sure = round(answer.chance, 3)
    words = _words(reading, candidate.explained | candidate.said.places)
    for technique in candidate.said.techniques:
        yield ResolvedRequest(candidate.slug, technique, sure, words)


def _offers(reading: Reading, answer: Answer, grounds: Grounds) -> Iterator[ResolvedRequest]:
    for place in fair(answer, reading, grounds):
        yield from _taken(reading, answer, place)


def _completed(
    request: ResolvedRequest, chosen: Mapping[str, str], index: StepIndex
) -> ResolvedRequest:
    takes = index.entries[index.number[request.step]].takes
    picked = {slot: value for slot, value in chosen.items() if (slot, value) in takes}
    return replace(request, technique={**picked, **request.technique})


def _merged(requests: Sequence[ResolvedRequest]) -> list[ResolvedRequest]:
    """Neighbours that ask for one step in ways that do not contradict, as one request."""
    out: list[ResolvedRequest] = []
    for request in requests:
        last = out[-1] if out else None
        if last and last.step == request.step and _agree(last.technique, request.technique):
            both = {**last.technique, **request.technique}
            words = (*last.words, *(word for word in request.words if word not in last.words))
            out[-1] = replace(last, technique=both, words=words)
        else:
            out.append(request)
    return out


def _agree(one: Mapping[str, str], two: Mapping[str, str]) -> bool:
    return all(one[slot] == two[slot] for slot in one.keys() & two.keys())


def _words(reading: Reading, places: frozenset[int]) -> tuple[str, ...]:
    numbers = sorted({number for place in places for number in reading.tokens[place].words})
    return tuple(reading.words[number] for number in numbers)


def _unused(reading: Reading, answers: Sequence[Answer]) -> tuple[str, ...]:
    """Written words with a meaning of their own that no request rests on."""
    used = {
        number
        for answer in answers
        for place in answer.top.explained | answer.top.said.places
        for number in reading.tokens[place].words
    }
    spoken = {
        number
        for token in reading.tokens
        if token.key not in EMPTY and not (answers and token.key in (FOLLOW_MARKERS | set(VERBS)))
        for number in token.words
    }
    return tuple(reading.words[number] for number in sorted(spoken - used)) + reading.cut
