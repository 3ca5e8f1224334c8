"""Gives each part of a sentence the object it shares with a neighbour.

*Percuss and then listen to the base* percusses the base too; *squeeze the calves, then measure
them* measures the calves. Owns only where the words go; what they ask for is ``scoring``'s.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from casebank.domain.examination.lexicon import EMPTY, VERBS
from casebank.domain.examination.tokens import COMMA, JOINS, THEN, Reading, Token

PRONOUNS = frozenset({"it", "them", "they", "these", "those", "this", "that"})


def with_shared_objects(reading: Reading) -> Reading | None:
    """The reading with shared objects said in each part; None where nothing is shared."""
    parts = parts_of(reading)
    found = list(parts)
    for place in range(len(parts) - 1):
        this, following = parts[place], parts[place + 1]
        kind = reading.breaks[following[0].segment]
        if kind in (*JOINS, THEN) and _is_bare_verb(this, following):
            found[place] = this + moved(_objects(parts, place + 1, reading), this)
        elif kind in (*JOINS, THEN, COMMA) and _points_back(following):
            objects = [token for token in this if _is_object(token)]
            found[place + 1] = following + moved(objects, following)
    if found == parts:
        return None
    return replace(reading, tokens=tuple(token for part in found for token in part))


def parts_of(reading: Reading) -> list[list[Token]]:
    """The tokens of each segment, in order."""
    parts: dict[int, list[Token]] = {}
    for token in reading.tokens:
        parts.setdefault(token.segment, []).append(token)
    return list(parts.values())


def does_say_then(reading: Reading) -> bool:
    """Whether one thing is to be done after another, and so two things are asked for."""
    return THEN in reading.breaks


def _is_bare_verb(part: Sequence[Token], following: Sequence[Token]) -> bool:
    said = {token.key for token in part} - EMPTY
    verbs = {VERBS[token.key] for token in following if token.key in VERBS}
    if not said or not verbs or not VERBS.keys() >= said:
        return False
    return not verbs & {VERBS[key] for key in said} and any(_is_object(t) for t in following)


def _points_back(part: Sequence[Token]) -> bool:
    """Whether a verb is followed by nothing but a pronoun: *measure them*."""
    for place, token in enumerate(part[:-1]):
        if token.key in VERBS and part[place + 1].key in PRONOUNS:
            return True
    return False


def _objects(parts: Sequence[Sequence[Token]], start: int, reading: Reading) -> list[Token]:
    """The objects of a part and of what follows it after commas without a verb of its own."""
    objects = [token for token in parts[start] if _is_object(token)]
    for part in parts[start + 1 :]:
        if reading.breaks[part[0].segment] != COMMA or any(token.key in VERBS for token in part):
            break
        objects += [token for token in part if _is_object(token)]
    return objects


def _is_object(token: Token) -> bool:
    return token.key not in VERBS and token.key not in EMPTY


def moved(objects: Sequence[Token], part: Sequence[Token]) -> list[Token]:
    """The tokens as if they were said in that part."""
    return [token._replace(segment=part[0].segment) for token in objects]
