"""A mere verb after a request: *now listen there*, *percuss it*, *and feel them*.

It asks for the step that is done so in the same place: of the steps of that method the one most
akin to the step before. Where two are as near the student is asked. The request before may stand in
the same sentence: *percuss the left base and then listen*.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from casebank.domain.examination.answers import Answer
from casebank.domain.examination.choosing import Grounds
from casebank.domain.examination.context import in_place_of
from casebank.domain.examination.cutting import part_of
from casebank.domain.examination.groups import YOU, group_of
from casebank.domain.examination.lexicon import EMPTY, FOLLOW_MARKERS, POINTERS, VERBS
from casebank.domain.examination.model import Method, Step
from casebank.domain.examination.outright import Outright, Usable
from casebank.domain.examination.phrases import Match
from casebank.domain.examination.resolution import Earlier, Resolution
from casebank.domain.examination.scoring import candidate_of
from casebank.domain.examination.stems import key_of, keys_in
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import AND, COMMA, STOP, THEN, Reading

METHODS = {
    key: VERBS[key] for key in map(key_of, ("auscultate", "listen", "percuss", "palpate", "feel"))
}
_PLACES = keys_in("in place spot area site region same too")
_NOTHING = EMPTY | POINTERS | FOLLOW_MARKERS | _PLACES
_SUBJECTS = keys_in("he she it you they do does any how if")
_JOINS = frozenset({AND, THEN, COMMA, STOP})
SURE, IN_DOUBT = 0.9, 0.4
"""The chance of a step that is nearest by far, and of one that is not."""
CLEAR = 0.5
"""By so much nearer must a step be than the next one."""
SIBLING, NEAR, DISTANT, TAKES, HEARD = 1.0, 1.0, 0.5, 0.5, 1.0
"""What it counts to be part of one whole, of one region, of one system, to be done at that site,
and what the verb alone says for a step, beside the weight of the words that two labels share."""
TELLING = 1.5
"""Words of less weight are in too many labels: *edge*, *sound*, *move*."""
OFFERED = 3


def method_of(reading: Reading, matches: Sequence[Match]) -> Method | None:
    """The method that a text of nothing but its verb names; what is told of technique, but for a
    site, may stand beside it."""
    told = {place for match in matches if match.slot != "site" for place in match.places}
    said = [
        token.key
        for place, token in enumerate(reading.tokens)
        if place not in told and token.key not in _NOTHING
    ]
    return METHODS.get(said[0]) if len(said) == 1 else None


def tail_of(reading: Reading) -> int | None:
    """The segment in which a text of other words ends with a mere verb; None where none does."""
    last = reading.tokens[-1].segment if reading.tokens else 0
    said = [token.key for token in reading.tokens if token.segment == last]
    is_mere = not METHODS.keys().isdisjoint(said) and METHODS.keys() | _NOTHING >= set(said)
    is_told = is_mere and not _is_of_patient(said, reading)
    return last if last and is_told and reading.breaks[last] in _JOINS else None


def _is_of_patient(said: Sequence[str], reading: Reading) -> bool:
    """Whether the patient is to do it, or it is asked about: *does he feel it*, *any feeling*."""
    verb = next(place for place, key in enumerate(said) if key in METHODS)
    is_asked = not _SUBJECTS.isdisjoint(said[:verb])
    is_to_patient = not YOU.isdisjoint(word.lower() for word in reading.words)
    may_feel = is_to_patient or reading.marks[-1] == "?"
    return is_asked or (METHODS[said[verb]] is Method.PALPATE and may_feel)


def pointed(
    reading: Reading, usable: Usable, grounds: Grounds, previous: Earlier
) -> Outright | None:
    """The step that a mere verb asks for after that request; None where the words are more, they
    name its own method, or no step is done so there."""
    index = grounds.index
    method, earlier = method_of(reading, usable.matches), index.steps[previous.step]
    if method is None or method is earlier.method:
        return None
    near = _nearest(earlier, method, previous, grounds)
    if not near:
        return None
    is_sure = len(near) == 1
    group = group_of(reading, range(len(reading.breaks)), usable.matches, usable.allowed, index)
    ranked = tuple(candidate_of(reading, group, index, index.number[slug])[0] for slug in near)
    chance = SURE if is_sure else IN_DOUBT
    answer = in_place_of(Answer(group, ranked, is_sure, chance), previous, index)
    return Outright((answer,), chance)


def _nearest(earlier: Step, method: Method, previous: Earlier, grounds: Grounds) -> Sequence[str]:
    """The steps of that method that are about as near as the nearest, which comes first."""
    index = grounds.index
    heard = grounds.weights.of([key for key, named in METHODS.items() if named is method])
    worth = {}
    for number, one in enumerate(entry.step for entry in index.entries):
        shared = _shared(one, earlier, index)
        if one.method is method and not one.parts and (shared or one.region == earlier.region):
            worth[one.slug] = (
                shared + _kinship(one, earlier, previous, index) + HEARD * float(heard[number])
            )
    order = sorted(worth, key=lambda slug: (-worth[slug], slug))
    return [slug for slug in order[:OFFERED] if worth[slug] >= worth[order[0]] - CLEAR]


def _shared(one: Step, two: Step, index: StepIndex) -> float:
    """The weight of the words that the labels of two steps share, of those that name a thing."""
    shared = index.label_keys(one.slug) & index.label_keys(two.slug)
    return sum(weight for weight in map(index.weight, sorted(shared)) if weight >= TELLING)


def _kinship(one: Step, earlier: Step, previous: Earlier, index: StepIndex) -> float:
    takes = index.entries[index.number[one.slug]].takes
    return (
        SIBLING * bool(index.wholes_of(one.slug) & index.wholes_of(earlier.slug))
        + NEAR * (one.region == earlier.region)
        + DISTANT * (one.system == earlier.system)
        + TAKES * (("site", previous.technique.get("site", "")) in takes)
    )


def in_two(reading: Reading, place: int) -> tuple[Reading, Reading]:
    """A text before and from that segment on, each as a reading of its own with all words."""
    return _part(reading, range(place)), _part(reading, range(place, len(reading.breaks)))


def _part(reading: Reading, segments: range) -> Reading:
    part = part_of(reading, segments)
    return replace(part, words=reading.words, cut=reading.cut if segments.start else ())


def joined(first: Resolution, then: Resolution) -> Resolution | None:
    """Two readings of one text as one, what the second leaves open among the words not understood;
    None where they ask for the same step."""
    steps = {one.step for one in first.requests}
    if not steps.isdisjoint(one.step for one in then.requests):
        return None
    return replace(
        first,
        requests=(*first.requests, *then.requests),
        not_understood=(*first.not_understood, *then.not_understood),
    )
