"""How far the best reading of a request may be trusted: what decides whether to take it or to ask.

Owns the traits of a reading beside its strongest rival; their weights were learned from phrasings.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from casebank.domain.examination.allowing import is_stopped, is_undoubted
from casebank.domain.examination.answers import Answer
from casebank.domain.examination.choosing import Grounds, Said, stands
from casebank.domain.examination.decision import do_differ_in_risk
from casebank.domain.examination.judgement import chance, total
from casebank.domain.examination.lexicon import EMPTY, VERBS
from casebank.domain.examination.scoring import FULL
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading
from casebank.domain.examination.weights import CHOOSE, TAKE

COMPARED = (
    "score", "named", "covered", "exact", "literal", "name", "told", "known words", "verb said",
    "label", "description", "names", "neither", "method", "other method", "affinity", "many names",
    "order", "whole", "heard", "heard in all",
)  # fmt: skip
"""Traits whose lead over the strongest rival counts besides."""
LEAST_CLEAR, LEAST, LEAST_RISKY = 0.62, 0.8, 0.85
"""Least chance with which a reading is taken without asking: where its lead is clear too, where it
is not, and where a near rival differs in cost or risk. Chosen on phrasings, to ask of 1 in 20."""
SAID_WHOLE = 0.99
"""The chance of a reading that leaves nothing to weigh."""
POINTED = 2
"""So many values of technique, or one and the verb, point to a step: *bell at the apex*."""
RIVALS = 4
"""So many rivals are weighed against the best reading."""
NEAR = 0.15
"""A rival whose score is less behind is near."""


def judged(answer: Answer, reading: Reading, grounds: Grounds) -> Answer:
    """The answer with whether it may be taken, and by what chance. Never with a doubt about a side
    or a drug, and no treatment that was not named, nor a drug that is to be stopped."""
    if not grounds.weights:
        return answer
    if not is_undoubted(answer.top, grounds.index) or is_stopped(answer, reading, grounds.index):
        return replace(answer, is_sure=False)
    if _is_said_whole(answer, grounds.index):
        return replace(answer, is_sure=True, chance=SAID_WHOLE)
    likely = trust(answer, reading, grounds)
    is_one_of_two = answer.top.is_literal and any(one.is_literal for one in answer.rivals)
    is_sure = not is_one_of_two and likely >= _least(answer, grounds.index)
    return replace(answer, is_sure=is_sure, chance=likely)


def _is_said_whole(answer: Answer, index: StepIndex) -> bool:
    """Whether nothing is left to weigh: a whole name, the request before, or technique that points
    to one step."""
    is_plain = answer.top.is_literal or answer.top.inherits or _is_whole_of_rival(answer, index)
    return answer.is_sure and (is_plain or _is_pointed_to(answer, index))


def _least(answer: Answer, index: StepIndex) -> float:
    if answer.is_sure:
        return LEAST_CLEAR
    this = index.steps[answer.top.slug]
    near = [one for one in answer.rivals if answer.top.score - one.score < NEAR]
    is_risky = any(do_differ_in_risk(this, index.steps[one.slug]) for one in near)
    return LEAST_RISKY if is_risky else LEAST


def _is_whole_of_rival(answer: Answer, index: StepIndex) -> bool:
    """Whether all was said of a whole examination, and its strongest rival is one of its parts."""
    parts = index.steps[answer.top.slug].parts
    return stands(answer) and any(one.slug in parts for one in answer.rivals[:1])


def _is_pointed_to(answer: Answer, index: StepIndex) -> bool:
    """Whether nothing but technique was said, twice or with the step's own verb."""
    top = answer.top
    verbs = index.steps[top.slug].method in answer.group.methods
    return top.covered > FULL and top.said.values + verbs >= POINTED


def trust(answer: Answer, reading: Reading, grounds: Grounds) -> float:
    """The chance, 0-1, that the answer's best reading is the one meant."""
    return chance(traits(answer, reading, grounds), TAKE)


def traits(answer: Answer, reading: Reading, grounds: Grounds) -> dict[str, float]:
    """The traits of the best reading, and its leads over the strongest rivals, by name."""
    said = Said(answer, reading, grounds)
    places = [grounds.index.number[one.slug] for one in answer.ranked]
    best = max(float(said.evidence[place]) for place in places)
    own = dict(said.traits(answer.top))
    ranked = answer.rivals
    found = dict(own)
    found.update(_of_text(answer, reading))
    found["affinity to best"] = own["affinity"] - best
    found["affinity is best"] = own["affinity"] >= best
    found["affinity to all"] = own["affinity"] - float(said.evidence.max())
    found["alone"] = not ranked
    if ranked:
        others = [dict(said.traits(one)) for one in ranked[:RIVALS]]
        found.update((f"{name}: lead", own[name] - others[0][name]) for name in COMPARED)
        found["lead"] = answer.top.score - ranked[0].score
        found["chosen: lead"] = total(own, CHOOSE) - max(total(one, CHOOSE) for one in others)
        found["rival is part"] = ranked[0].slug in grounds.index.steps[answer.top.slug].parts
        found["rival is whole"] = answer.top.slug in grounds.index.steps[ranked[0].slug].parts
        heard = [each["heard"] for each in others]
        found["heard: least lead"] = own["heard"] - max(heard)
    return found


def _of_text(answer: Answer, reading: Reading) -> Iterator[tuple[str, float]]:
    segments = {reading.tokens[place].segment for place in answer.group.places}
    yield "sure", answer.is_sure
    yield "words", min(len(answer.group.content), 12)
    yield "weight", min(answer.group.weight, 15.0)
    yield "segments", min(len(segments), 5)
    yield "outside words", min(len(reading.words), 40) - min(len(answer.group.places), 40)
    yield "corrected", any(reading.tokens[p].corrected for p in answer.group.content)
    yield "inherits", answer.top.inherits
    yield "no verb", all(reading.tokens[p].key not in VERBS for p in answer.group.places)
    yield "idle", sum(reading.tokens[p].key in EMPTY for p in answer.group.places)
