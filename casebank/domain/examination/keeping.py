"""Which parts of a sentence are requests, and which only explain one: details, reasons, remarks.

*Chest X-ray: is the heart big?* asks for one thing, *chest X-ray and troponin* for two. Each part
is judged by its traits, with weights learned from phrasings; the likeliest part always stands.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial

from casebank.domain.examination.answers import Answer, break_before
from casebank.domain.examination.choosing import Grounds, Heard
from casebank.domain.examination.judgement import chance
from casebank.domain.examination.kinship import ORDERS, Traits, kinship, naming
from casebank.domain.examination.lexicon import EMPTY, VERBS
from casebank.domain.examination.model import Method
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import COMMA, JOINS, STOP, THEN, Reading
from casebank.domain.examination.weights import KEEP

LEAST = 0.6
"""Least chance with which a part stands as a request beside another."""
MARKS = frozenset("?./;(")
OPENINGS = {
    "if": "if whether for to that",
    "because": "so because since as while when with without until before after",
    "he": "he she it they his her there this that",
    "question": "is are do does did has have any can was were how what when where which who could",
    "i": "i id im ill",
}
"""What the first words of a part may be: a purpose, a circumstance, a statement, a question."""
PERSONS = {"you": "you your", "me": "i me id im ill my", "he": "he she his her him hes shes"}
_OPENINGS = {name: frozenset(words.split()) for name, words in OPENINGS.items()}
_PERSONS = {name: frozenset(words.split()) for name, words in PERSONS.items()}


def kept(
    answers: Sequence[Answer], reading: Reading, grounds: Grounds, least: float = LEAST
) -> list[Answer]:
    """The answers that stand as requests, in order, each by at least that chance."""
    if len(answers) < 2 or _are_joined_names(answers, reading) or _are_listed(answers, grounds):
        return list(answers)
    chances = [chance(each, KEEP) for each in traits(answers, reading, grounds)]
    least = min(least, max(chances))
    return [one for one, likely in zip(answers, chances, strict=True) if likely >= least]


def _are_joined_names(answers: Sequence[Answer], reading: Reading) -> bool:
    """Whether the sentence is nothing but whole names with *and*, *or*, *then* between them, or
    mere words with commas: *pulse, BP*."""
    are_names = all(one.top.is_literal and one.is_sure for one in answers)
    are_words = all(len(one.group.places) == 1 for one in answers)
    kinds = (*JOINS, THEN, COMMA) if are_words else (*JOINS, THEN)
    return are_names and all(break_before(one, reading) in kinds for one in answers[1:])


def _are_listed(answers: Sequence[Answer], grounds: Grounds) -> bool:
    """Whether the sentence is a list of whole names, all done alike: *liver, spleen, kidneys*."""
    methods = {grounds.index.steps[one.top.slug].method for one in answers}
    are_names = all(one.top.is_literal and one.is_sure for one in answers)
    return len(answers) > 2 and len(methods) == 1 and are_names


def traits(answers: Sequence[Answer], reading: Reading, grounds: Grounds) -> list[dict[str, float]]:
    """The traits of each answer among its neighbours, two or more; each by its name."""
    whole = dict(_of_sentence(answers, reading))
    describe = partial(_traits, answers, reading, grounds, whole)
    return [describe(number) for number in range(len(answers))]


def _traits(
    answers: Sequence[Answer],
    reading: Reading,
    grounds: Grounds,
    whole: dict[str, float],
    number: int,
) -> dict[str, float]:
    this, index = answers[number], grounds.index
    found = dict(whole)
    found.update(_heard(this, answers, reading, grounds))
    found.update(_of_answer(this, index))
    found.update(_among(number, answers, index))
    found.update(_of_speech(this, reading))
    if number + 1 < len(answers):
        found[f"before {break_before(answers[number + 1], reading)}"] = 1.0
    for name, other in _others(number, answers):
        kin = kinship(this, other, reading, index)
        found.update((f"{name}: {trait}", value) for trait, value in kin)
    return found


def _heard(this: Answer, answers: Sequence[Answer], reading: Reading, grounds: Grounds) -> Traits:
    """What the words say for a part's step: its own words, and all of the sentence's."""
    number, said = grounds.index.number, Heard(this, reading, grounds)
    places = [number[one.top.slug] for one in answers if one is not this]
    own = number[this.top.slug]
    yield from said.traits(own)
    yield "heard in all to others", float(said.whole[own]) - max(map(float, said.whole[places]))


def _others(number: int, answers: Sequence[Answer]) -> list[tuple[str, Answer]]:
    """The answers that one is compared with: the first, both neighbours, and the weightiest."""
    rest = [one for place, one in enumerate(answers) if place != number]
    found = [("main", max(rest, key=lambda one: (one.is_sure, _worth(one))))]
    if number:
        found += [("first", answers[0]), ("last", answers[number - 1])]
    if number + 1 < len(answers):
        found.append(("next", answers[number + 1]))
    return found


def _worth(answer: Answer) -> float:
    return answer.top.name_weight * min(answer.top.score, 1.3)


def _of_sentence(answers: Sequence[Answer], reading: Reading) -> Traits:
    breaks = reading.breaks[1:]
    verbs = {token.segment for token in reading.tokens if token.key in VERBS}
    literal = sum(one.top.is_literal for one in answers)
    yield "answers", min(len(answers), 6)
    yield "words", min(len(reading.words), 40)
    yield "segments", min(len(reading.breaks), 10)
    yield "answers of segments", len(answers) / len(reading.breaks)
    yield "stops", sum(kind == STOP for kind in breaks)
    yield "commas", sum(kind == "comma" for kind in breaks)
    yield "joins", sum(kind in JOINS for kind in breaks)
    yield "questions", sum(mark == "?" for mark in reading.marks)
    yield "verbs", len(verbs)
    yield "literal share", literal / len(answers)
    yield "all literal", literal == len(answers)


def _of_answer(answer: Answer, index: StepIndex) -> Traits:
    top, group = answer.top, answer.group
    step = index.steps[top.slug]
    yield from naming(top)
    yield "name", min(top.name_weight, 8.0)
    yield "weight", min(group.weight, 15.0)
    yield "left over", (1 - top.covered) * min(group.weight, 15.0)
    yield "length", min(len(group.content), 10)
    yield "one word", len(group.content) <= 1
    yield "sure", answer.is_sure
    yield "doubtful", bool(top.doubts)
    yield "told", top.told
    yield "ask", step.method is Method.ASK
    yield "order", step.method in ORDERS
    yield "treat", step.method is Method.TREAT
    yield "inspect", step.method is Method.INSPECT
    yield "manoeuvre", step.method is Method.MANOEUVRE
    yield "dimension", top.slug in index.dimensions
    yield "is whole", bool(step.parts)


def _among(number: int, answers: Sequence[Answer], index: StepIndex) -> Traits:
    this = answers[number]
    others = [one for place, one in enumerate(answers) if place != number]
    step = index.steps[this.top.slug]
    steps = [index.steps[one.top.slug] for one in others]
    yield "first", number == 0
    yield "last", number == len(answers) - 1
    yield "first is longer", answers[0].top.name_weight > this.top.name_weight
    yield "weightiest", _worth(this) >= max(map(_worth, others))
    yield "share of weight", _part(this.group.weight, (one.group.weight for one in answers))
    yield "share of names", _part(this.top.name_weight, (one.top.name_weight for one in answers))
    yield "others named", sum(one.top.named > 0.99 for one in others) / len(others)
    yield "least covered", min(one.top.covered for one in others)
    yield "like methods", sum(one.method is step.method for one in steps) / len(steps)
    yield "like regions", sum(one.region == step.region for one in steps) / len(steps)


def _part(value: float, every: Iterable[float]) -> float:
    total = sum(every)
    return value / total if total else 0.0


def _of_speech(answer: Answer, reading: Reading) -> Traits:
    segments = {reading.tokens[place].segment for place in answer.group.places}
    said = [token.key for token in reading.tokens if token.segment in segments]
    first, opening = min(segments), said[0] if said else ""
    yield f"after {reading.breaks[first]}", 1.0
    if reading.marks[first] in MARKS:
        yield f"after {reading.marks[first]}", 1.0
    yield "asked", reading.marks[max(segments) + 1 : max(segments) + 2] == ("?",)
    yield "has verb", not VERBS.keys().isdisjoint(said)
    yield "opens with verb", opening in VERBS
    yield "opens idly", opening in EMPTY
    yield "opens with meaning", opening not in EMPTY and opening not in VERBS
    yield "inherits verb", answer.group.is_verb_inherited
    for name, words in _OPENINGS.items():
        yield f"opens with {name}", not words.isdisjoint(said[:2])
    for name, words in _PERSONS.items():
        yield f"says {name}", not words.isdisjoint(said)
