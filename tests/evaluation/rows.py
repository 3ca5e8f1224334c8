"""What the weights are learned from: for every text the traits of its readings, and which are right.

A text counts by how new it is, and by how few of its kind there are.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from casebank.domain.examination import (
    alone,
    choosing,
    cutting,
    goingon,
    keeping,
    siding,
    trusting,
)
from casebank.domain.examination.followups import may_lean
from casebank.domain.examination.model import Catalogue, Step
from casebank.domain.examination.resolve import SURE_ALONE
from casebank.domain.examination.stepindex import StepIndex
from casebank.domain.examination.tokens import Reading
from tests.evaluation.entries import Phrasing, Wanted
from tests.evaluation.readers import SEED, Reader, counts_in_full, is_clear

STALE_WEIGHT, PAIR_WEIGHT, SEVERAL_WEIGHT, OUTSIDE_WEIGHT = 0.25, 0.4, 3.0, 1.5
"""What a text of an older batch, a made pair, a text of several requests, and one that asks for
nothing count."""
WHOLE_WEIGHT, AFTER_WEIGHT = 0.3, 3.0
"""What a text counts that is taken whole before it is cut in parts, and one after a request."""


@dataclass(frozen=True)
class Row:
    """The traits of one answer, whether it was right, and how much it counts."""

    traits: Mapping[str, float]
    is_right: bool
    weight: float


def alone_rows(reader: Reader) -> Iterator[Row]:
    """A row for each text: whether the step for which all its words speak is all it asks for."""
    grounds = reader.resolver.sentences.grounds
    for one in reader.texts:
        reading = reader.resolver.reading(one.text)
        if one.after is None and reading.tokens:
            heard = alone.Hearing(reading, grounds)
            slug = grounds.index.entries[heard.step].step.slug
            is_right = is_clear(one) and len(one.requests) == 1 and slug in wanted(one)
            yield Row(heard.traits(), is_right, _weight(one))


def several_rows(reader: Reader) -> Iterator[Row]:
    """A row for each text that is cut in parts: whether they are all that is asked for."""
    grounds = reader.resolver.sentences.grounds
    for one in reader.texts:
        reading = reader.resolver.reading(one.text)
        whole = alone.alone(reading, grounds) if one.after is None else None
        if whole is None or whole.chance >= SURE_ALONE:
            continue
        if not 1 < len(reading.breaks) <= cutting.MOST_SEGMENTS:
            continue
        parts = cutting.likeliest(reading, grounds, whole)
        if len(parts) > 1:
            slugs = {grounds.index.entries[part.step].step.slug for part in parts}
            is_right = is_clear(one) and slugs == {each.step for each in one.requests}
            traits = cutting.traits(parts, reading, grounds, whole)
            yield Row(traits, is_right, _weight(one))


def goes_on_rows(reader: Reader) -> Iterator[Row]:
    """A row for each text after a request: whether it asks for the same step in another way. One
    that was written alone is put after a step of its system, where it could lean on that."""
    sentences = reader.resolver.sentences
    draw, systems = random.Random(SEED), _by_system(reader.resolver.catalogue)
    for one in filter(is_clear, reader.texts):
        reading = reader.resolver.reading(one.text)
        whole = sentences.heard(reading)
        if whole is None:
            continue
        before = one.after or _any_before(one, systems, draw)
        if one.after or may_lean(reading, sentences.matches(reading)):
            traits = goingon.traits(sentences.turn(reading, whole, before), sentences.grounds)
            is_same = one.after is not None and before.step in wanted(one)
            weight = AFTER_WEIGHT if one.after else _weight(one)
            yield Row(traits, is_same and len(one.requests) == 1, weight)


def _by_system(catalogue: Catalogue) -> Mapping[str, list[Step]]:
    found: dict[str, list[Step]] = {}
    for step in catalogue.steps.values():
        found.setdefault(step.system, []).append(step)
    return found


def _any_before(
    phrasing: Phrasing, systems: Mapping[str, list[Step]], draw: random.Random
) -> Wanted:
    """Some other step of the system, with some technique, as the request before."""
    slug = phrasing.requests[0].step
    near = next(steps for steps in systems.values() if any(one.slug == slug for one in steps))
    step = draw.choice([one for one in near if one.slug != slug])
    return Wanted(step.slug, {slot.slot: draw.choice(slot.values) for slot in step.slots[:1]})


def weighed(reader: Reader) -> Iterator[tuple[Phrasing, Reading, float]]:
    """Each text with what it counts: those that are taken whole at once, and never cut into parts,
    count little."""
    grounds = reader.resolver.sentences.grounds
    for one in reader.texts:
        reading = reader.resolver.reading(one.text)
        found = alone.alone(reading, grounds) if one.after is None else None
        is_whole = found is not None and found.chance >= SURE_ALONE
        yield one, reading, _weight(one) * (WHOLE_WEIGHT if is_whole else 1.0)


def choose_rows(reader: Reader) -> Iterator[Row]:
    """A row for each wrong step near a right one: by how much the right one's traits are more."""
    sentences = reader.resolver.sentences
    for one, reading, weight in weighed(reader):
        if not is_clear(one):
            continue
        for part in sentences.parts(reading, one.after):
            ranked = tuple(sorted(part.ranked, key=lambda each: -each.score))
            found = choosing.traits(replace(part, ranked=ranked), reading, sentences.grounds)
            if not choosing.stands(part):
                yield from _choices(one, [each.slug for each in ranked], found, weight)


def _choices(
    phrasing: Phrasing, slugs: Sequence[str], found: Sequence[Mapping[str, float]], weight: float
) -> Iterator[Row]:
    """Of a part of several requests only its best right step is right: the others have theirs."""
    right = [place for place, slug in enumerate(slugs) if slug in wanted(phrasing)]
    if not right:
        return
    best = found[right[0]]
    fair = wanted(phrasing) if len(phrasing.requests) == 1 else {slugs[right[0]]}
    others = [each for each, slug in zip(found, slugs, strict=True) if slug not in fair]
    for other in others:
        traits = {name: best[name] - other[name] for name in best}
        yield Row(traits, True, weight / len(others))


def keep_rows(reader: Reader) -> Iterator[Row]:
    """A row for each part of every sentence of several parts."""
    sentences = reader.resolver.sentences
    for one, reading, weight in weighed(reader):
        parts = sentences.parts(reading, one.after)
        if not is_clear(one) or len(parts) < 2:
            continue
        described = keeping.traits(parts, reading, sentences.grounds)
        for part, traits in zip(parts, described, strict=True):
            yield Row(traits, part.top.slug in wanted(one), weight)


def take_rows(reader: Reader) -> Iterator[Row]:
    """A row for each answer that stands; one to a text that asks for nothing is always wrong."""
    sentences = reader.resolver.sentences
    for one, reading, weight in weighed(reader):
        for answer in sentences.answers(reading, one.after):
            traits = trusting.traits(answer, reading, sentences.grounds)
            is_right = is_clear(one) and answer.top.slug in wanted(one)
            yield Row(traits, is_right, weight)


def side_rows(reader: Reader) -> Iterator[Row]:
    """A row for each side said in a text of one request that says both: whether it is meant."""
    sentences = reader.resolver.sentences
    for one in filter(is_clear, reader.texts):
        if not _tells_side(one, sentences.index):
            continue
        reading = reader.resolver.reading(one.text)
        step = sentences.index.number[one.requests[0].step]
        takes = sentences.index.entries[step].takes
        said = siding.sides_said(reading, sentences.matches(reading), takes)
        if siding.are_both_said(said):
            heard = siding.Heard(reading, step, sentences.grounds)
            meant = one.requests[0].technique.get("side", "")
            for match in (each for each in said if each.value[1] in siding.BOTH):
                found = siding.traits(match, said, heard)
                yield Row(found, meant in ("both", match.value[1]), 1.0)


def _tells_side(phrasing: Phrasing, index: StepIndex) -> bool:
    """Whether a text of one request leaves no doubt about its side."""
    if len(phrasing.requests) != 1 or phrasing.after is not None:
        return False
    request = phrasing.requests[0]
    takes = index.entries[index.number[request.step]].takes
    return ("side", "both") in takes and ("side" in request.technique or "side" not in request.may)


def wanted(phrasing: Phrasing) -> frozenset[str]:
    """The steps that a text asks for, or may fairly be read to ask for."""
    return phrasing.accept | {one.step for one in phrasing.requests}


def _weight(phrasing: Phrasing) -> float:
    if phrasing.batch == "pairs":
        return PAIR_WEIGHT
    if phrasing.outside:
        return OUTSIDE_WEIGHT
    several = SEVERAL_WEIGHT if len(phrasing.requests) > 1 else 1.0
    return several * (1.0 if counts_in_full(phrasing) else STALE_WEIGHT)
