"""Why a step must not be taken without asking, however well it scores: sides and drugs."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from itertools import pairwise

from casebank.domain.examination.doses import is_of_dose, reason_places
from casebank.domain.examination.lexicon import EMPTY, ORDERED, STATED
from casebank.domain.examination.model import Method
from casebank.domain.examination.stepindex import Entry, StepIndex, StepPhrase
from casebank.domain.examination.technique import Said
from casebank.domain.examination.tokens import Reading, Token, literal

ASKS = frozenset({"is", "are", "was", "were", "does", "did", "has", "had", "any"})
"""Words that begin a question about the patient."""
HOW = frozenset({"when", "what", "how", "which", "why"})
DONE = frozenset({"did", "do", "does", "have", "has", "was", "were", "is", "are", "dose", "much"})
"""*When did you*, *what is the*: words that begin a question about a drug or what was taken."""
TAKERS = frozenset({"he", "she", "they"})
NOT_ORDERED = "not ordered"
"""The doubt about a drug that is mentioned among other things, and not given by any verb."""


def doubts(
    reading: Reading,
    content: Collection[int],
    methods: Collection[Method],
    entry: Entry,
    index: StepIndex,
    phrase: StepPhrase | None,
    said: Said,
    *,
    is_named: bool,
) -> Iterator[str]:
    """The doubts about reading the tokens at ``content`` as this step, a word or two each."""
    if said.is_side_doubtful:
        yield "side"
    if entry.step.method is not Method.TREAT:
        return
    named = phrase.keys if phrase else frozenset()
    tokens = {place: reading.tokens[place] for place in content}
    is_given = Method.TREAT in methods
    is_ordered = (
        len(reading.breaks) == 1
        or is_given
        or _are_all_drugs(reading, index)
        or _is_dosed(tokens.values())
    )
    is_mentioned = not is_ordered and any(t.key in index.drug_keys for t in tokens.values())
    if is_mentioned or (not is_given and is_question(reading)):
        yield NOT_ORDERED
    reasons = reason_places(reading.tokens, sorted(content)) if is_named else frozenset()
    for place, token in tokens.items():
        is_explained = place in said.places or token.key in named
        if place in reasons and token.key not in index.drug_keys:
            continue
        if not (is_named and is_of_dose(token.key)):
            yield from _drug_doubts(token, is_explained, index, named)


def _are_all_drugs(reading: Reading, index: StepIndex) -> bool:
    """Whether every part of the sentence names a treatment: a list of orders, not a mention."""
    stated = {token.segment for token in reading.tokens if token.key in STATED}
    segments = {token.segment for token in reading.tokens if not _is_idle(token)} - stated
    drugs = {token.segment for token in reading.tokens if token.key in index.drug_keys}
    return all(one in drugs or _is_treatment(one, reading, index) for one in segments)


def _is_dosed(tokens: Iterable[Token]) -> bool:
    """Whether words beside a drug tell that it is given: an amount, or *started*, *push*."""
    return any(
        token.key in ORDERED or (token.key[0].isdigit() and is_of_dose(token.key))
        for token in tokens
    )


def _is_treatment(segment: int, reading: Reading, index: StepIndex) -> bool:
    """Whether a part of the sentence is the whole name of a treatment: *high flow oxygen*."""
    said = literal(token.key for token in reading.tokens if token.segment == segment)
    named = index.literals.get(said, ())
    return any(index.entries[number].step.method is Method.TREAT for number in named)


def is_question(reading: Reading) -> bool:
    """Whether the words ask how things are, and order nothing: *is she on oxygen*."""
    first, *rest = [word.lower() for word in reading.words]
    return first in ASKS or (first in ("do", "have") and rest[:1] in (["you"], ["they"]))


def is_only_told(reading: Reading) -> bool:
    """Whether the words ask or tell what is taken: *when did you last inject your insulin*, *what
    dose of furosemide is usual*, *she takes furosemide*."""
    said = [word.lower() for word in reading.words if word != "ask"]
    is_asked = not HOW.isdisjoint(said[:1]) and not DONE.isdisjoint(said[1:2])
    return is_asked or any(who in TAKERS and does == "takes" for who, does in pairwise(said))


def _is_idle(token: Token) -> bool:
    return token.key in EMPTY or is_of_dose(token.key)


def _drug_doubts(
    token: Token, is_explained: bool, index: StepIndex, named: frozenset[str]
) -> Iterator[str]:
    """A drug is never guessed: not from a near miss, a dose, a stray word or a mere mention."""
    if token.corrected and (token.key in index.drug_keys or not named):
        yield "drug name"
    if is_explained:
        return
    if is_of_dose(token.key):
        yield "dose"
    elif token.key not in index.known_keys:
        yield "stray word"
