"""Whether a text asks for the step before again, in another way: *now lying flat*, *a finger too*.

Judged by what of the text the earlier step's technique explains, by words that point back, and by
what all words say for a step of their own; the weights were learned from phrasings. What is changed
is ``followups``'s.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from casebank.domain.examination.alone import Alone
from casebank.domain.examination.answers import Answer
from casebank.domain.examination.choosing import Grounds
from casebank.domain.examination.followups import changed_by, leans_back
from casebank.domain.examination.groups import Group, group_of
from casebank.domain.examination.judgement import chance
from casebank.domain.examination.kinship import ORDERS
from casebank.domain.examination.lexicon import (
    FOLLOW_MARKERS,
    GOING_ON,
    OTHER_SIDE,
    POINTERS,
    VERBS,
    tells,
)
from casebank.domain.examination.model import Method
from casebank.domain.examination.outright import Outright, Usable
from casebank.domain.examination.resolution import Earlier
from casebank.domain.examination.scoring import Candidate
from casebank.domain.examination.tokens import Reading, literal
from casebank.domain.examination.weights import GOES_ON

SLOTS = ("side", "site", "posture", "breathing", "effort", "instrument", "timing")
OPENINGS = frozenset(
    {"and", "with", "while", "in", "on", "at", "from", "try", "does", "can", "give"}
)


@dataclass(frozen=True)
class Turn:
    """A text after a request: its words as one group, the earlier step as they would change it,
    and the step for which they speak by themselves."""

    reading: Reading
    group: Group
    changed: Candidate
    whole: Alone
    previous: Earlier


def turn(
    reading: Reading, usable: Usable, grounds: Grounds, whole: Alone, previous: Earlier
) -> Turn:
    """The text after that request, which is of the catalogue."""
    segments = range(len(reading.breaks))
    group = group_of(reading, segments, usable.matches, usable.allowed, grounds.index)
    changed = changed_by(reading, group, grounds.index, previous)
    return Turn(reading, group, changed, whole, previous)


def going_on(this: Turn, grounds: Grounds) -> Outright:
    """The earlier step changed, and the chance, 0-1, that this is what is asked for; 0 where its
    side is in doubt."""
    told = this.changed.said.techniques
    is_clear = len(told) == 1 and not this.changed.doubts and not is_asked_anew(this, grounds)
    likely = chance(traits(this, grounds), GOES_ON) if is_clear else 0.0
    return Outright((Answer(this.group, (this.changed,), is_sure=True, chance=likely),), likely)


def is_asked_anew(this: Turn, grounds: Grounds) -> bool:
    """Whether a verb and a place ask for the same step anew: *now listen at the aortic area*."""
    entry = grounds.index.entries[grounds.index.number[this.previous.step]]
    said = {token.key for token in this.reading.tokens}
    is_verb_its_own = entry.step.method in this.group.methods and said.isdisjoint(FOLLOW_MARKERS)
    sites = {match.value for match in this.group.matches if match.slot == "site"}
    is_place_its_own = not sites.isdisjoint(entry.takes) and said.isdisjoint(POINTERS)
    return is_verb_its_own and is_place_its_own and not _moves(this)


def _moves(this: Turn) -> bool:
    """Whether a text only moves on to another place: *tap up at the elbow*, *higher up*."""
    words = {word.lower() for word in this.reading.words}
    return not words.isdisjoint({"up", "down", "move", "higher", "lower"})


def traits(this: Turn, grounds: Grounds) -> Mapping[str, float]:
    """Name and value of each trait of a text after a request."""
    found = (_of_change(this), _of_words(this), _of_steps(this, grounds), _of_names(this, grounds))
    return {name: float(value) for each in found for name, value in each}


def _of_change(this: Turn) -> Iterator[tuple[str, float]]:
    changed, before = this.changed, this.previous.technique
    told = changed.said.techniques[0] if changed.said.techniques else {}
    new = {slot: value for slot, value in told.items() if before.get(slot) != value}
    yield "explained", changed.covered
    yield "all explained", changed.covered > 0.99
    yield "values", min(3, changed.said.values)
    yield "changes", min(3, len(new))
    yield "changes what was said", sum(slot in before for slot in new)
    yield "says the same", changed.said.values > 0 and not new
    for slot in SLOTS:
        yield f"new {slot}", slot in new


def _of_words(this: Turn) -> Iterator[tuple[str, float]]:
    keys = [token.key for token in this.reading.tokens]
    said, first = set(keys), keys[0]
    yield "again", bool(said & FOLLOW_MARKERS)
    yield "points", min(2, len(said & POINTERS))
    yield "other", bool(said & OTHER_SIDE)
    yield "leans back", leans_back(this.reading)
    yield "opens going on", first in GOING_ON
    yield "opens with a small word", this.reading.words[0].lower() in OPENINGS
    yield "words", min(20, len(this.reading.words))
    yield "telling", min(8, sum(map(tells, keys)))
    yield "segments", min(4, len(this.reading.breaks))
    yield "has verb", not VERBS.keys().isdisjoint(said)
    yield "opens with verb", first in VERBS
    yield "to patient", this.group.is_to_patient is True
    yield "questions", this.reading.marks.count("?") > 0


def _of_steps(this: Turn, grounds: Grounds) -> Iterator[tuple[str, float]]:
    index = grounds.index
    earlier, own = index.steps[this.previous.step], index.entries[this.whole.step].step
    heard = grounds.weights.of([token.key for token in this.reading.tokens])
    yield "alone", this.whole.chance
    yield "heard", float(heard[this.whole.step])
    yield "earlier heard", float(heard[index.number[earlier.slug]])
    yield "earlier to best", float(heard[index.number[earlier.slug]] - heard[this.whole.step])
    yield "same step", own is earlier
    yield "same region", own.region == earlier.region
    yield "same system", own.system == earlier.system
    yield "siblings", bool(index.wholes_of(own.slug) & index.wholes_of(earlier.slug))
    yield "part", own.slug in earlier.parts
    yield "same method", own.method is earlier.method
    yield "alone elsewhere", this.whole.chance * (own is not earlier)
    yield "earlier asks", earlier.method is Method.ASK
    yield "earlier orders", earlier.method in ORDERS
    yield "treats", own.method is Method.TREAT and own is not earlier
    methods = this.group.methods
    yield "fits method", earlier.method in methods
    yield "other method", bool(methods) and earlier.method not in methods


def _of_names(this: Turn, grounds: Grounds) -> Iterator[tuple[str, float]]:
    index = grounds.index
    entry = index.entries[index.number[this.previous.step]]
    content = literal(this.reading.tokens[place].key for place in this.group.places)
    named = index.literals.get(content, ())
    said = [this.reading.tokens[place].key for place in this.group.content]
    yield (
        "names another",
        bool(named)
        and entry.step.slug not in {index.entries[number].step.slug for number in named},
    )
    yield "of its names", sum(key in entry.named_by for key in said) / max(1, len(said))
    yield "of its description", sum(key in entry.fits for key in said) / max(1, len(said))
