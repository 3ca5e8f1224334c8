"""How well each step of the catalogue answers a group of tokens: coverage, naming, method, doubt.

Owns the numbers. What is done with them is ``decision``'s.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from casebank.domain.examination.coverage import (
    method_factor,
    pointed_to,
    words_beyond,
    worths,
)
from casebank.domain.examination.doubts import doubts, is_question
from casebank.domain.examination.groups import Group, keys_of
from casebank.domain.examination.lexicon import COMMON, KEPT, VERBS
from casebank.domain.examination.model import Method
from casebank.domain.examination.shortlist import Hit, shortlist
from casebank.domain.examination.stepindex import Entry, StepIndex, StepPhrase
from casebank.domain.examination.technique import Said, technique_said
from casebank.domain.examination.tokens import Reading, literal

FIRM, BARELY = 0.9, 0.6
EVERYDAY = 0.5
"""What is left of a score that rests on everyday words alone, where words are left over or no name
was said in full."""
VERB_ALONE = 0.5
"""Most that a text of nothing but verbs can score."""
TOLD = 0.02
"""What each word of technique adds to a step that was named in full."""
LONGER_NAME = 0.025
"""What each unit of weight of a name said in full adds: the longer name is the one meant."""
NAME_BESIDE = 0.1
"""What it adds when all that was said, or all beside the technique, is a name of the step."""
ADDRESS = 0.07
"""What it adds when a question is put to the patient (*do you*) or an act is about them (*his*)."""
RESISTED, AGAINST_ME = ("effort", "resisted"), 0.08
"""What it adds that a push is withstood: that tests power, not a joint."""
LITERAL, NOTHING_ELSE, WORD_FOR_WORD = 1.3, 1.45, 1.5
"""Scores of a step of which the whole text is a name: but for empty words in both, in the text
alone, or word for word."""
SHORTLIST, FEW = 5, 4
"""Steps that are looked at closely; fewer where all that was said is some step's name."""
FULL = 0.99
"""From here on a name counts as said in full."""


@dataclass(frozen=True)
class Candidate:
    """One step as the answer to a group. ``named`` 0-1: how fully a name of the step was said.

    ``lacks_verb``: the name has a verb (*listen over the liver and spleen*) and none was said.
    """

    slug: str
    score: float
    named: float
    covered: float
    said: Said
    explained: frozenset[int]
    is_literal: bool
    name_weight: float = 0.0
    told: int = 0
    known_words: int = 0
    is_verb_said: bool = False
    lacks_verb: bool = False
    inherits: bool = False
    doubts: tuple[str, ...] = ()
    name_places: frozenset[int] = frozenset()


def candidates(
    reading: Reading,
    group: Group,
    index: StepIndex,
    also: Sequence[int] = (),
) -> list[Candidate]:
    """The best steps for a group, and those ``also`` to be looked at where the group is no name;
    the best first."""
    literally = _literally(reading, group, index)
    most = FEW if literally else SHORTLIST
    hits = shortlist(reading, group, index, most, () if literally else also)
    found = _weighed(reading, group, index, hits, literally)
    return sorted(found, key=lambda one: (-one.score, one.slug))


def candidate_of(
    reading: Reading, group: Group, index: StepIndex, number: int
) -> tuple[Candidate, list[Candidate]]:
    """One step as the reading of a group, and the other steps of which the group is a name."""
    literally = _literally(reading, group, index)
    found = _weighed(
        reading, group, index, shortlist(reading, group, index, 0, (number,)), literally
    )
    slug = index.entries[number].step.slug
    this = next(one for one in found if one.slug == slug)
    return this, [one for one in found if one is not this]


def _weighed(
    reading: Reading,
    group: Group,
    index: StepIndex,
    hits: Mapping[int, Hit | None],
    literally: Mapping[int, float],
) -> list[Candidate]:
    return [
        _candidate(reading, group, index, number, hits.get(number), literally.get(number, 0.0))
        for number in sorted(hits.keys() | literally.keys())
    ]


def _literally(reading: Reading, group: Group, index: StepIndex) -> dict[int, float]:
    """Steps of which the whole group is a name, with the score that this earns."""
    said = tuple(reading.tokens[place].key for place in group.places)
    content = literal(said)
    found = dict.fromkeys(index.literals.get(content, ()), LITERAL)
    found.update(dict.fromkeys(index.word_for_word.get(content, ()), NOTHING_ELSE))
    found.update(dict.fromkeys(index.word_for_word.get(said, ()), WORD_FOR_WORD))
    if group.is_verb_inherited and not found:
        whole = literal(keys_of(group, reading))
        found = dict.fromkeys(index.literals.get(whole, ()), LITERAL)
    return found


@dataclass(frozen=True)
class _Evidence:
    """What speaks for one step."""

    entry: Entry
    said: Said
    named: float
    name_weight: float
    phrase: StepPhrase | None
    worth: dict[int, float]
    covered: float
    told: int
    factor: float


def _candidate(
    reading: Reading,
    group: Group,
    index: StepIndex,
    number: int,
    hit: Hit | None,
    literally: float,
) -> Candidate:
    found = _evidence(reading, group, index, number, hit)
    score = _score(reading, group, index, found)
    if literally:
        score = literally * (found.factor if group.is_verb_inherited else 1.0)
    score += ADDRESS * _is_addressed(group, found.entry)
    used = frozenset(place for place, worth in found.worth.items() if worth > 0)
    names = found.entry.named_by - VERBS.keys()
    return Candidate(
        slug=found.entry.step.slug,
        score=score,
        named=1.0 if literally else found.named,
        covered=1.0 if literally else found.covered,
        said=found.said,
        explained=frozenset(group.places) if literally else used,
        is_literal=bool(literally),
        name_weight=found.name_weight,
        told=found.told,
        known_words=sum(reading.tokens[place].key in names for place in group.content),
        is_verb_said=_is_verb_said(reading, group, found.phrase),
        lacks_verb=bool(found.phrase and found.phrase.verbs and not group.methods),
        doubts=_doubts(reading, group, index, found, is_literal=bool(literally)),
        name_places=frozenset(
            place
            for place in group.content
            if found.phrase and reading.tokens[place].key in found.phrase.keys
        ),
    )


def _evidence(
    reading: Reading,
    group: Group,
    index: StepIndex,
    number: int,
    hit: Hit | None,
) -> _Evidence:
    entry = index.entries[number]
    share, weight = (hit.share, hit.said) if hit else (0.0, 0.0)
    phrase = index.phrases[hit.name] if hit else None
    name = phrase.keys if phrase and share > FULL else frozenset()
    said = technique_said(reading, group.matches, entry.takes, name)
    worth = worths(reading, group, entry, phrase, said, is_named=share > FULL)
    weights = {place: index.weight(reading.tokens[place].key) for place in worth}
    gained = sum(worth[place] * weight for place, weight in weights.items())
    counting = sum(weights.values())
    return _Evidence(
        entry,
        said,
        min(1.0, share),
        weight,
        phrase,
        worth,
        gained / counting if counting else 0.0,
        min(said.values, words_beyond(reading, said, phrase)),
        method_factor(entry, phrase, group.methods),
    )


def _score(reading: Reading, group: Group, index: StepIndex, found: _Evidence) -> float:
    named = found.named
    strength = named + (1 - named) * pointed_to(found.entry, group, found.said, index)
    score = found.covered * (0.5 + 0.5 * strength) * found.factor
    if named > FULL:
        score += TOLD * min(3, found.told) + LONGER_NAME * min(6.0, found.name_weight)
    if RESISTED in {value for said in found.said.techniques for value in said.items()}:
        score += AGAINST_ME
    if _is_name_beside(reading, group, index, found) or _is_name_reordered(reading, group, found):
        score += NAME_BESIDE
    if all(reading.tokens[place].key in VERBS for place in group.content):
        score = min(score, VERB_ALONE)
    is_doubtful = found.covered < FIRM or named < BARELY or _is_number(reading, group)
    if is_doubtful and _is_everyday(reading, group, found):
        score *= EVERYDAY
    return score


def _is_addressed(group: Group, entry: Entry) -> bool:
    """Whether a question is put to the patient, or anything else is said about the patient."""
    if group.is_to_patient is None:
        return False
    return group.is_to_patient == (entry.step.method is Method.ASK)


def _is_number(reading: Reading, group: Group) -> bool:
    return all(reading.tokens[place].key.isdigit() for place in group.content)


def _is_everyday(reading: Reading, group: Group, found: _Evidence) -> bool:
    """Whether what was understood is nothing but everyday words: *play some music*."""
    keys = [reading.tokens[p].key for p in group.content if found.worth.get(p, 0.0) > 0]
    return all(key in COMMON or key in KEPT or key.isdigit() for key in keys)


def _is_verb_said(reading: Reading, group: Group, phrase: StepPhrase | None) -> bool:
    """Whether the very verb of the step's name was said."""
    said = {reading.tokens[place].key for place in group.places}
    return phrase is not None and bool(phrase.verbs) and phrase.verbs <= said


def _is_name_beside(reading: Reading, group: Group, index: StepIndex, found: _Evidence) -> bool:
    """Whether all that was said beside the technique is a name of the step."""
    if not found.said.places:
        return False
    beside = [p for p in group.content if p not in found.said.places]
    keys = tuple(reading.tokens[place].key for place in beside)
    return index.number[found.entry.step.slug] in index.literals.get(keys, ())


def _is_name_reordered(reading: Reading, group: Group, found: _Evidence) -> bool:
    """Whether all that was said is a name of the step in another order, but for a verb."""
    said = {reading.tokens[place].key for place in group.content}
    return found.phrase is not None and said - VERBS.keys() == found.phrase.keys


def _doubts(
    reading: Reading, group: Group, index: StepIndex, found: _Evidence, *, is_literal: bool
) -> tuple[str, ...]:
    """The doubts; none where the whole text is, letter for letter, a name of the step."""
    is_whole = len(group.places) == len(reading.tokens)
    is_asked = found.entry.step.method is Method.TREAT and is_question(reading)
    is_exact = is_literal and is_whole and not is_asked
    if is_exact and not any(token.corrected for token in reading.tokens):
        return ()
    return tuple(
        doubts(
            reading,
            group.content,
            group.methods,
            found.entry,
            index,
            found.phrase,
            found.said,
            is_named=found.named > FULL,
        )
    )
