"""What becomes of the answers to the parts of one sentence: which stand, and what they share.

Owns the sentence as a whole. How well one part is answered is ``scoring``'s and ``decision``'s.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from casebank.domain.examination.groups import Group
from casebank.domain.examination.lexicon import POSITIONS, STATED
from casebank.domain.examination.phrases import Match
from casebank.domain.examination.scoring import Candidate
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import AND, ASIDE, COMMA, QUERY, THEN, Reading


@dataclass(frozen=True)
class Answer:
    """What became of one group: its candidates, the best first, and the chance, 0-1, that the best
    is what is asked for; None where only names were compared."""

    group: Group
    ranked: tuple[Candidate, ...]
    is_sure: bool
    chance: float | None = None

    @property
    def top(self) -> Candidate:
        """The best candidate."""
        return self.ranked[0]

    @property
    def rivals(self) -> list[Candidate]:
        """The candidates for other steps, the strongest first."""
        return [one for one in self.ranked if one.slug != self.top.slug]


def without_parts_of_wholes(answers: list[Answer], index: StepIndex) -> list[Answer]:
    """Without what the whole examination that stands beside it asks for anyway."""
    parts = {part for one in answers if one.is_sure for part in _parts(one.top.slug, index)}
    return [one for one in answers if one.top.slug not in parts]


def _parts(slug: str, index: StepIndex) -> tuple[str, ...]:
    return index.steps[slug].parts if slug in index.steps else ()


def with_shared_manner(
    answers: list[Answer], reading: Reading, matches: Sequence[Match], index: StepIndex
) -> list[Answer]:
    """What ends a list after a comma holds for all of it: *knee and ankle jerks, both sides*."""
    if len(answers) < 2:
        return answers
    answers = _with_topic_manner(answers, reading, matches, index)
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
    return [*(also_told(answer, values, index) for answer in answers[:-1]), answers[-1]]


def _with_topic_manner(
    answers: list[Answer], reading: Reading, matches: Sequence[Match], index: StepIndex
) -> list[Answer]:
    """What is told before a colon, or of the patient's posture before the first request, holds
    for all that follows: *right knee: tap and bulge test*, *stand her up: veins and pulses*."""
    first = segment_of(min(answers[0].top.name_places or answers[0].group.places), reading)
    kinds = reading.breaks[1:]
    colon = kinds.index(ASIDE) if ASIDE in kinds else -1
    topic = {match.value for match in matches if segment_of(match.places[-1], reading) <= colon}
    topic |= {
        match.value
        for match in matches
        if match.slot == "posture" and _leads(match, answers[0], first, reading)
    }
    if not topic:
        return answers
    return [answers[0], *(also_told(answer, topic, index) for answer in answers[1:])]


def _leads(match: Match, answer: Answer, segment: int, reading: Reading) -> bool:
    """Whether a posture is told before the first request's name and no later one is its own."""
    named = answer.top.name_places
    is_first = THEN not in reading.breaks[: segment + 1]
    return is_first and bool(named) and match.places[-1] < min(named)


def _with_shared_instrument(
    answers: list[Answer], reading: Reading, index: StepIndex
) -> list[Answer]:
    """An instrument told of the second of two holds for both: *Rinne and Weber, 512 fork*."""
    *before, last = answers
    told = last.top.said.techniques[0].get("instrument") if last.top.said.techniques else None
    if told is None or break_before(last, reading) != AND:
        return answers
    value = {("instrument", told)}
    return [*(also_told(answer, value, index) for answer in before), last]


def with_stray_manner(
    answers: list[Answer], reading: Reading, matches: Sequence[Match], index: StepIndex
) -> list[Answer]:
    """Manner told in a part of the sentence that asks for nothing is that of the request before.

    *Finger up the back passage, left lateral with the knees up*: the second part is no request.
    How the patient is (*he's weak on the left*, *?left basal pneumonia*) is no manner.
    """
    taken = {segment_of(place, reading) for one in answers for place in one.group.places}
    stray = [match for match in matches if _is_stray(match, taken, reading)]
    out = list(answers)
    for match in reversed(stray):
        before = [n for n, one in enumerate(out) if one.group.places[0] < match.places[0]]
        if out:
            number = before[-1] if before else 0
            out[number] = also_told(out[number], {match.value}, index)
    return out


def is_remark(match: Match, reading: Reading) -> bool:
    """Whether a side is told of the patient, not of the request: *power, he's weak on the left*."""
    return match.slot == "side" and _is_stated(segment_of(match.places[0], reading), reading)


def _is_stated(segment: int, reading: Reading) -> bool:
    """Whether a part of the sentence tells how the patient is."""
    first = next(token for token in reading.tokens if token.segment == segment)
    return first.key in STATED


def _is_stray(match: Match, taken: set[int], reading: Reading) -> bool:
    segments = {segment_of(place, reading) for place in match.places}
    if segments & taken:
        return False
    segment = min(segments)
    return reading.breaks[segment] != QUERY and not _is_stated(segment, reading)


def break_before(answer: Answer, reading: Reading) -> str:
    """What separates an answer's words from those before them."""
    return reading.breaks[segment_of(answer.group.places[0], reading)]


def segment_of(place: int, reading: Reading) -> int:
    """The segment in which the token at a place stands."""
    return reading.tokens[place].segment


def with_positions_as_manner(answers: list[Answer], index: StepIndex) -> list[Answer]:
    """Without sitting up or laying flat where what is asked next is done in that posture.

    Elsewhere it is a treatment: *sit him up and give oxygen*, *sit him up and check his sats*.
    """
    kept: list[Answer] = []
    for answer in answers:
        posture = _posture_before(kept)
        if posture and posture in _takes(answer, index):
            kept[-1] = also_told(answer, {posture}, index)
        else:
            kept.append(answer)
    return kept


def with_values_as_manner(
    answers: Sequence[Answer], reading: Reading, matches: Sequence[Match], index: StepIndex
) -> list[Answer]:
    """Without parts after a comma that are nothing but a value which the step before takes:
    *ankle oedema, light touch* is one request, though *light touch* names another step."""
    kept: list[Answer] = []
    for answer in answers:
        values = _values_alone(answer, reading, matches) if kept else set()
        if values and values <= _takes(kept[-1], index) and not _tells(kept[-1], values):
            kept[-1] = also_told(kept[-1], values, index)
        else:
            kept.append(answer)
    return kept


def _values_alone(
    answer: Answer, reading: Reading, matches: Sequence[Match]
) -> set[tuple[str, str]]:
    """The one value that all telling words of a part after a comma say, if they do."""
    if break_before(answer, reading) != COMMA:
        return set()
    content = set(answer.group.content)
    whole = [match.value for match in matches if content and content <= set(match.places)]
    return set(whole[:1])


def _tells(answer: Answer, values: set[tuple[str, str]]) -> bool:
    slots = {slot for slot, _ in values}
    return any(slots & technique.keys() for technique in answer.top.said.techniques)


def _posture_before(kept: Sequence[Answer]) -> tuple[str, str] | None:
    """The posture that the last answer puts the patient in, if that is all it does."""
    slug = kept[-1].top.slug if kept else ""
    return ("posture", POSITIONS[slug]) if slug in POSITIONS else None


def _takes(answer: Answer, index: StepIndex) -> frozenset[tuple[str, str]]:
    return index.entries[index.number[answer.top.slug]].takes


def also_told(answer: Answer, values: set[tuple[str, str]], index: StepIndex) -> Answer:
    """The answer told these values as well, where its step takes them; what it was told stays."""
    extra = dict(sorted(values & _takes(answer, index)))
    techniques = tuple({**extra, **said} for said in answer.top.said.techniques)
    top = replace(answer.top, said=replace(answer.top.said, techniques=techniques))
    return replace(answer, ranked=(top, *answer.ranked[1:]))
