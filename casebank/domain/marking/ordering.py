"""Marks for order from marking version 2: agreement with the scheme's partial order."""

from __future__ import annotations

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Precedence, Wanted
from casebank.domain.marking.doing import lines_meeting
from casebank.domain.marking.model import DomainMark, Point, Record
from casebank.domain.psychometrics import partial_order_concordance

Pair = tuple[str, str]


def order(case: CompiledCase, record: Record) -> DomainMark:
    """100 x respected pairs / judged pairs; the first time a step was done counts.

    Pairs of which a step was never done, or that one request met both ends of, are not judged.
    """
    first = first_entries(case, record)
    done = sorted(first, key=lambda name: first[name])
    pairs = {(pair.before, pair.after): pair for pair in case.document.scheme.order}
    apart = [pair for pair in pairs if first.get(pair[0]) != first.get(pair[1])]
    found = partial_order_concordance(done, apart)
    points = [_point(case, pairs[pair], first, 1.0) for pair in found.respected]
    points += [_point(case, pairs[pair], first, 0.0) for pair in found.broken]
    return DomainMark(
        domain="order",
        score=None if found.share is None else 100 * found.share,
        weight=case.document.scheme.weights.get("order", 0.0),
        points=tuple(sorted(points, key=lambda point: point.entries)),
        note=_note(found.judged, len(pairs)),
    )


def first_entries(case: CompiledCase, record: Record) -> dict[str, int]:
    """Wanted step to the log position at which it was first done."""
    lines = {item.id: lines_meeting(case, record, item) for item in _wanted(case)}
    return {name: found[0].seq for name, found in lines.items() if found}


def _wanted(case: CompiledCase) -> tuple[Wanted, ...]:
    return (*case.document.scheme.essential, *case.document.scheme.routine)


def _point(case: CompiledCase, pair: Precedence, first: dict[str, int], earned: float) -> Point:
    steps = {item.id: case.catalogue.steps[item.step].label for item in _wanted(case)}
    return Point(
        words=f"{steps[pair.before]} before {steps[pair.after].lower()}: {pair.why}",
        earned=earned,
        possible=1.0,
        entries=(first[pair.before], first[pair.after]),
    )


def _note(judged: int, wanted: int) -> str:
    if not judged:
        return "No pair whose order matters was done."
    if judged == wanted:
        return ""
    return f"{judged} of {wanted} pairs could be judged; of the others a step was not done."
