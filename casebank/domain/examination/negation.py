"""Which tokens of a reading are denied (*without lifting the arm*) and so ask for nothing."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from casebank.domain.examination.lexicon import EMPTY, NEGATORS, RESTARTS, VERBS, WILLING
from casebank.domain.examination.phrases import Match
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading, Token, literal


def allowed_tokens(
    reading: Reading, matches: Iterable[Match], index: StepIndex
) -> tuple[bool, ...]:
    """For each token whether it may be used. A denial reaches to the end of its segment.

    A denial that is itself the name of something (*not pressing hard*, *scan without contrast*)
    denies nothing.
    """
    tokens = reading.tokens
    allowed = [True] * len(tokens)
    if literal(token.key for token in tokens) in index.literals:
        return tuple(allowed)
    meant = {place for match in matches for place in match.places}
    for start, token in enumerate(tokens):
        if not _denies(tokens, start) or not allowed[start] or start in meant:
            continue
        scope = _scope(tokens, start)
        if not _names_a_step(token.key, {tokens[p].key for p in scope}, index):
            for place in scope:
                allowed[place] = False
    return tuple(allowed)


def _scope(tokens: Sequence[Token], start: int) -> list[int]:
    """From the denial to the end of its segment, or to where the speaker begins anew: *rather than
    hurry I would listen*."""
    scope: list[int] = []
    for place in range(start, len(tokens)):
        if tokens[place].segment != tokens[start].segment or (scope and _begins(tokens, place)):
            break
        scope.append(place)
    return scope


def _begins(tokens: Sequence[Token], place: int) -> bool:
    if tokens[place].key in RESTARTS:
        return True
    following = tokens[place + 1].key if place + 1 < len(tokens) else ""
    return tokens[place].key == "i" and following in WILLING


def _denies(tokens: Sequence[Token], place: int) -> bool:
    """Whether a word denies; *no* does so only before a verb (*no auscultation*)."""
    following = tokens[place + 1].key if place + 1 < len(tokens) else ""
    return tokens[place].key in NEGATORS or (tokens[place].key == "no" and following in VERBS)


def _names_a_step(negator: str, said: set[str], index: StepIndex) -> bool:
    content = said - EMPTY - {negator}
    names = (index.phrases[number].keys - {negator} for number in index.by_key.get(negator, ()))
    return any(name and name <= content for name in names)
