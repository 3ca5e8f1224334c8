"""Gives each part of a sentence what is said once for several: other readings of the same words.

*Tone and power in the left leg*, *right knee: tap and bulge test*, *knee and ankle reflexes*.
Owns where the words go, and whether that reads better than the plain sentence.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from casebank.domain.examination.answers import Answer
from casebank.domain.examination.lexicon import EMPTY, VERBS
from casebank.domain.examination.scoring import FULL
from casebank.domain.examination.sharing import moved, parts_of
from casebank.domain.examination.stems import key_of
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import ASIDE, COMMA, JOINS, STOP, THEN, Reading, Token

Part = Sequence[Token]

PREPOSITIONS = frozenset(
    map(key_of, "in at of on for over with while during from under when as round behind to".split())  # noqa: SIM905
)
"""Words that begin what may be said of a whole list: *in the left leg*, *while she breathes in*."""
_LIST = (COMMA, *JOINS, THEN)
PLAINLY_ASKED = 0.8
"""Least chance with which a part that was given more words must stand as a request."""
LONGEST_LIST = 5
"""Most parts that share their ending."""
LONGEST_ENDING = 3
"""Most words of an ending without a preposition: *knee and ankle reflexes*."""


def distributed(reading: Reading) -> Iterator[Reading]:
    """The readings in which an ending or a topic is said in each part of its list, most telling
    first; none where there is only one part."""
    parts = parts_of(reading)
    if len(parts) < 2:
        return
    for found in (_with_topic(parts, reading), *_with_endings(parts, reading)):
        if found is not None:
            yield replace(reading, tokens=tuple(token for part in found for token in part))


def _kind(part: Part, reading: Reading) -> str:
    return reading.breaks[part[0].segment]


def _with_topic(parts: Sequence[Part], reading: Reading) -> list[Part] | None:
    """What stands before a colon or dash, said in each part after it: *arms: tone, power*."""
    if _kind(parts[1], reading) != ASIDE or len(parts) < 3:
        return None
    topic = [token for token in parts[0] if token.key not in EMPTY]
    if not topic:
        return None
    out: list[Part] = []
    is_open = True
    for part in parts[1:]:
        is_open = is_open and _kind(part, reading) != STOP
        out.append([*moved(topic, part), *part] if is_open else part)
    return out


def _with_endings(parts: Sequence[Part], reading: Reading) -> Iterator[list[Part] | None]:
    """Each list's ending said in all its parts: from its preposition on, else its last words."""
    for start, last in _lists(parts, reading):
        before, final = parts[start:last], parts[last]
        if any(token.key in VERBS for token in final):
            continue
        for ending in _endings(final):
            said = [[*part, *moved(ending, part)] for part in before]
            yield [*parts[:start], *said, *parts[last:]]


def _lists(parts: Sequence[Part], reading: Reading) -> Iterator[tuple[int, int]]:
    """First and last place of parts that make one list: joined by commas, *and* or *then*."""
    for last in range(1, len(parts)):
        if _kind(parts[last], reading) not in _LIST:
            continue
        if last + 1 < len(parts) and _kind(parts[last + 1], reading) in (*JOINS, THEN):
            continue
        start = last - 1
        while start and last - start < LONGEST_LIST - 1 and _kind(parts[start], reading) in _LIST:
            start -= 1
        yield start, last


def _endings(part: Part) -> Iterator[Part]:
    content = [place for place, token in enumerate(part) if token.key not in EMPTY]
    for place, token in enumerate(part):
        if token.key in PREPOSITIONS and content and content[0] < place < content[-1]:
            yield part[place:]
            return
    for length in range(min(LONGEST_ENDING, len(content) - 1), 0, -1):
        yield part[content[-length] :]


def is_better_distributed(
    others: Sequence[Answer], answers: Sequence[Answer], reading: Reading, index: StepIndex
) -> bool:
    """Whether the parts, each with what was said for all, are surely several requests.

    They do where the plain reading was in doubt or saw fewer, where they are the same steps with
    more of the technique, or where a whole examination gives way to one of its tests.
    """
    steps, plain = _steps(others), _steps(answers)
    if len(steps) < 2:
        return False
    if steps == plain and len(others) == len(answers):
        return _told(others) > _told(answers) and _are_no_weaker(others, answers)
    if not are_strong(others):
        return False
    if len(answers) == 1 and answers[0].is_sure and is_all(answers[0], reading):
        return False
    if not all(one.is_sure for one in answers) or len(steps) > len(plain):
        return True
    wholes = [slug for slug in plain if index.steps[slug].parts]
    return bool(wholes) and not any(index.steps[slug].parts for slug in steps)


def is_all(answer: Answer, reading: Reading) -> bool:
    """Whether an answer names its step in full and leaves no telling word of the sentence over."""
    telling = {place for place, token in enumerate(reading.tokens) if token.key not in EMPTY}
    top = answer.top
    return min(top.named, top.covered) > FULL and telling <= top.explained | top.said.places


def _are_no_weaker(others: Sequence[Answer], answers: Sequence[Answer]) -> bool:
    pairs = zip(others, answers, strict=True)
    return all(one.top.slug == two.top.slug and one.is_sure >= two.is_sure for one, two in pairs)


def are_strong(answers: Sequence[Answer]) -> bool:
    """Whether every answer is sure, and named in full or of all words said."""
    return all(one.is_sure and max(one.top.named, one.top.covered) > FULL for one in answers)


def _steps(answers: Sequence[Answer]) -> set[str]:
    return {answer.top.slug for answer in answers}


def _told(answers: Sequence[Answer]) -> int:
    return sum(len(technique) for one in answers for technique in one.top.said.techniques)
