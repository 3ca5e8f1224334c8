"""How two answers to parts of one sentence stand to each other, as traits for ``keeping``.

A detail of a request is told by its words, which stand in the description of the request's step,
by what it asks for (an inspection after an X-ray is a hope for its result), and by its length.
"""

from __future__ import annotations

from collections.abc import Iterator

from casebank.domain.examination.answers import Answer
from casebank.domain.examination.lexicon import VERBS
from casebank.domain.examination.model import Method
from casebank.domain.examination.scoring import FULL, Candidate
from casebank.domain.examination.stepindex import Entry, StepIndex
from casebank.domain.examination.tokens import Reading

ORDERS = frozenset({Method.INVESTIGATION, Method.TREAT})
Traits = Iterator[tuple[str, float]]


def naming(one: Candidate) -> Traits:
    """How well a step was named, for itself."""
    yield "score", min(one.score, 1.6)
    yield "named", one.named
    yield "covered", one.covered
    yield "exact", min(one.named, one.covered) > FULL
    yield "literal", one.is_literal


def kinship(this: Answer, other: Answer, reading: Reading, index: StepIndex) -> Traits:
    """Name and value of each trait of ``this`` answer towards the ``other``."""
    one, two = (index.entries[index.number[each.top.slug]] for each in (this, other))
    yield from _of_steps(one, two, index)
    yield from _of_words(telling(this, reading), telling(other, reading), one, two, index)
    top = other.top
    yield "is sure", other.is_sure
    yield "is literal", top.is_literal
    yield "score", min(top.score, 1.6)
    yield "name", min(top.name_weight, 8.0)
    yield "covered", top.covered
    yield "length", min(len(other.group.content), 10)
    yield "has verb", any(reading.tokens[place].key in VERBS for place in other.group.places)


def _of_steps(one: Entry, two: Entry, index: StepIndex) -> Traits:
    yield "same step", one is two
    yield "same method", one.step.method is two.step.method
    yield "same system", one.step.system == two.step.system
    yield "same region", one.step.region == two.step.region
    yield "siblings", bool(index.wholes_of(one.step.slug) & index.wholes_of(two.step.slug))
    yield "part", one.step.slug in two.step.parts
    yield "whole", two.step.slug in one.step.parts
    yield "orders", two.step.method in ORDERS
    yield "asks", two.step.method is Method.ASK


def _of_words(
    here: list[str], there: list[str], one: Entry, two: Entry, index: StepIndex
) -> Traits:
    yield "fit", _share(here, two.fits | two.named_by, index)
    yield "fit only", _share(here, two.fits, index)
    yield "fitted", _share(there, one.fits | one.named_by, index)


def telling(answer: Answer, reading: Reading) -> list[str]:
    """The keys of an answer's counting words, without verbs."""
    found = (reading.tokens[place].key for place in answer.group.content)
    return [key for key in found if key not in VERBS]


def _share(said: list[str], known: frozenset[str], index: StepIndex) -> float:
    """The share, by weight, of what was said that is known; 0 of nothing."""
    total = sum(index.weight(key) for key in said)
    return sum(index.weight(key) for key in said if key in known) / total if total else 0.0
