"""A group of tokens that is read as one request, with the methods that its verbs name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casebank.domain.examination.lexicon import CUES, EMPTY, FOLLOW_MARKERS, VERBS
from casebank.domain.examination.model import Method
from casebank.domain.examination.phrases import Match
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import STOP, Reading

YOU = frozenset({"you", "your", "youre", "youve", "yourself"})
THEY = frozenset({"he", "she", "his", "her", "him", "hes", "shes", "their"})


@dataclass(frozen=True)
class Group:
    """Tokens read as one request: their places, those that count, and the matches among them."""

    places: tuple[int, ...]
    content: tuple[int, ...]
    matches: tuple[Match, ...]
    weight: float
    methods: frozenset[Method]
    is_verb_inherited: bool = False
    is_to_patient: bool | None = None


def group_of(
    reading: Reading, segments: range, matches: Sequence[Match], allowed: Sequence[bool],
    index: StepIndex,
) -> Group:  # fmt: skip
    """The group made of these segments."""
    tokens = reading.tokens
    places = tuple(p for p, token in enumerate(tokens) if token.segment in segments and allowed[p])
    inside = set(places)
    content = tuple(p for p in places if tokens[p].words and _counts(tokens[p].key))
    return Group(
        places,
        content,
        tuple(match for match in matches if inside.issuperset(match.places)),
        sum(index.weight(tokens[p].key) for p in content),
        *_methods(reading, places, allowed),
        _is_to_patient(reading),
    )


def keys_of(group: Group, reading: Reading) -> list[str]:
    """The keys of a group's words, before them the verb that it takes over, if it does."""
    said = [reading.tokens[place].key for place in group.places]
    if not group.is_verb_inherited:
        return said
    before = [token.key for token in reading.tokens[: group.places[0]] if token.key in VERBS]
    return [*before[-1:], *said]


def _is_to_patient(reading: Reading) -> bool | None:
    """Whether the patient is spoken to (*do you*) or of (*his*); None where neither is said."""
    said = {word.lower() for word in reading.words}
    if said & YOU:
        return True
    return False if said & THEY else None


def _methods(
    reading: Reading, places: Sequence[int], allowed: Sequence[bool]
) -> tuple[frozenset[Method], bool]:
    """The methods that verbs name; a list without a verb takes that of the segments before."""
    named = frozenset(
        VERBS[reading.tokens[p].key] for p in places if reading.tokens[p].key in VERBS
    )
    if not named:
        named = frozenset(
            CUES[reading.tokens[p].key] for p in places if reading.tokens[p].key in CUES
        )
    if named or not places or reading.breaks[reading.tokens[places[0]].segment] == STOP:
        return named, False
    for place in range(places[0] - 1, -1, -1):
        token = reading.tokens[place]
        if token.key in VERBS and allowed[place]:
            return frozenset({VERBS[token.key]}), True
        if reading.breaks[token.segment] == STOP and token.segment:
            break
    return frozenset(), False


def _counts(key: str) -> bool:
    return key not in EMPTY and key not in FOLLOW_MARKERS
