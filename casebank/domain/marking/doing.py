"""Marks for what was done: coverage, technique and order."""

from __future__ import annotations

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Wanted
from casebank.domain.examination.conditions import meets
from casebank.domain.marking.model import DomainMark, Line, Point, Record


def lines_meeting(case: CompiledCase, record: Record, item: Wanted) -> tuple[Line, ...]:
    """The requests that count as doing this item of the scheme."""
    return tuple(
        line
        for line in record.requests()
        if line.payload["step"] == item.step
        and (not item.stages or line.payload["stage"] in item.stages)
        and meets(line.payload["technique"], item.when, case.catalogue)
    )


def coverage(case: CompiledCase, record: Record) -> DomainMark:
    """Weighted share of the essential steps that were done."""
    points = []
    for item in case.document.scheme.essential:
        done = lines_meeting(case, record, item)
        points.append(
            Point(
                words=f"{_label(case, item)}: {item.why}",
                earned=item.weight if done else 0.0,
                possible=item.weight,
                entries=tuple(line.seq for line in done[:1]),
            )
        )
    return _share(case, "coverage", points, "")


def technique(case: CompiledCase, record: Record) -> DomainMark:
    """Of the essential steps done, the weighted share done well at least once."""
    points = []
    for item in case.document.scheme.essential:
        done = lines_meeting(case, record, item)
        if not item.well or not done:
            continue
        well = [
            line for line in done if meets(line.payload["technique"], item.well, case.catalogue)
        ]
        said = ", ".join(f"{slot} {condition}" for slot, condition in item.well.items())
        points.append(
            Point(
                words=f"{_label(case, item)}, best done with {said}.",
                earned=item.weight if well else 0.0,
                possible=item.weight,
                entries=tuple(line.seq for line in (well or list(done))[:1]),
            )
        )
    return _share(case, "technique", points, "No step was done whose technique is marked.")


def order(case: CompiledCase, record: Record) -> DomainMark:
    """Share of the scheme's precedence pairs, both done, that were kept."""
    items = {item.id: item for item in _all_wanted(case)}
    points = []
    for pair in case.document.scheme.order:
        before, after = items[pair.before], items[pair.after]
        first = lines_meeting(case, record, before)
        then = lines_meeting(case, record, after)
        if not first or not then:
            continue
        kept = first[0].seq < then[0].seq
        points.append(
            Point(
                words=f"{_label(case, before)} before {_label(case, after).lower()}: {pair.why}",
                earned=1.0 if kept else 0.0,
                possible=1.0,
                entries=(first[0].seq, then[0].seq),
            )
        )
    return _share(case, "order", points, "No pair whose order matters was done.")


def _all_wanted(case: CompiledCase) -> tuple[Wanted, ...]:
    return (*case.document.scheme.essential, *case.document.scheme.routine)


def _label(case: CompiledCase, item: Wanted) -> str:
    return case.catalogue.steps[item.step].label


def _share(case: CompiledCase, domain: str, points: list[Point], empty: str) -> DomainMark:
    possible = sum(point.possible for point in points)
    score = 100 * sum(point.earned for point in points) / possible if possible else None
    return DomainMark(
        domain=domain,
        score=score,
        weight=case.document.scheme.weights.get(domain, 0.0),  # type: ignore[call-overload]
        points=tuple(points),
        note="" if possible else empty,
    )
