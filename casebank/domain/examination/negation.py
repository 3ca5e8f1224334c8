"""Which tokens of a reading are denied (*without lifting the arm*) and so ask for nothing."""

from __future__ import annotations

from collections.abc import Iterable

from casebank.domain.examination.lexicon import EMPTY, NEGATORS
from casebank.domain.examination.phrases import Match
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading, literal


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
        if token.key not in NEGATORS or not allowed[start] or start in meant:
            continue
        scope = [p for p in range(start, len(tokens)) if tokens[p].segment == token.segment]
        if not _names_a_step(token.key, {tokens[p].key for p in scope}, index):
            for place in scope:
                allowed[place] = False
    return tuple(allowed)


def _names_a_step(negator: str, said: set[str], index: StepIndex) -> bool:
    content = said - EMPTY - {negator}
    names = (index.phrases[number].keys - {negator} for number in index.by_key.get(negator, ()))
    return any(name and name <= content for name in names)
