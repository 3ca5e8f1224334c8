"""Rules of the marking scheme: weights, wanted steps that can be done, an order without circles."""

from __future__ import annotations

from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from math import fsum
from typing import get_args

from casebank.domain.casefile.checks.findings import stage_problems
from casebank.domain.casefile.checks.hypotheses import TOLERANCE
from casebank.domain.casefile.checks.steps import never_met, step_problems, when_problems
from casebank.domain.casefile.problems import Problem, error, repeated, unknown, warning
from casebank.domain.casefile.schema import CaseDocument, Domain, Scheme, Unsafe, Wanted
from casebank.domain.examination.model import Catalogue

DOMAINS: tuple[str, ...] = get_args(Domain)


def problems(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    """Everything wrong with the marking scheme."""
    yield from _weights(document.scheme)
    yield from repeated(_ids(document.scheme), "id")
    for path, wanted in _wanted(document.scheme):
        yield from _one_wanted(path, wanted, document, catalogue)
    for place, unsafe in enumerate(document.scheme.unsafe):
        yield from _one_unsafe(f"scheme.unsafe[{place}]", unsafe, document, catalogue)
    yield from _order(document.scheme)
    yield from _minutes(document.scheme, catalogue)


def _wanted(scheme: Scheme) -> Iterator[tuple[str, Wanted]]:
    for kind, items in (("essential", scheme.essential), ("routine", scheme.routine)):
        for place, wanted in enumerate(items):
            yield f"scheme.{kind}[{place}]", wanted


def _ids(scheme: Scheme) -> Iterator[tuple[str, str]]:
    return ((f"{path}.id", wanted.id) for path, wanted in _wanted(scheme))


def _weights(scheme: Scheme) -> Iterator[Problem]:
    missing = [name for name in DOMAINS if name not in scheme.weights]
    if missing:
        yield error("scheme.weights", f"lack {', '.join(missing)}; give each a weight, 0 if none")
    total = fsum(scheme.weights.values())
    if abs(total - 100) > TOLERANCE:
        yield error("scheme.weights", f"sum to {total:g}; change them so that they sum to 100")


def _one_wanted(
    path: str, wanted: Wanted, document: CaseDocument, catalogue: Catalogue
) -> Iterator[Problem]:
    found = [
        *step_problems(f"{path}.step", wanted.step, catalogue),
        *when_problems(f"{path}.when", wanted.step, wanted.when, catalogue),
        *when_problems(f"{path}.well", wanted.step, wanted.well, catalogue),
        *stage_problems(f"{path}.stages", wanted.stages, document),
    ]
    yield from found
    if not found:
        step = catalogue.steps[wanted.step]
        yield from never_met(path, step, catalogue, wanted.when, wanted.well)
        yield from _forbidden(path, wanted, document.scheme)


def _forbidden(path: str, wanted: Wanted, scheme: Scheme) -> Iterator[Problem]:
    for place, unsafe in enumerate(scheme.unsafe):
        if unsafe.step == wanted.step and _covers(unsafe, wanted):
            yield error(path, f"is wanted, but scheme.unsafe[{place}] forbids it; drop one")


def _covers(unsafe: Unsafe, wanted: Wanted) -> bool:
    everywhere = not unsafe.stages or (wanted.stages and set(wanted.stages) <= set(unsafe.stages))
    asked = {**wanted.well, **wanted.when}
    return bool(everywhere) and all(asked.get(slot) == c for slot, c in unsafe.when.items())


def _one_unsafe(
    path: str, unsafe: Unsafe, document: CaseDocument, catalogue: Catalogue
) -> Iterator[Problem]:
    found = [
        *step_problems(f"{path}.step", unsafe.step, catalogue),
        *when_problems(f"{path}.when", unsafe.step, unsafe.when, catalogue),
        *stage_problems(f"{path}.stages", unsafe.stages, document),
    ]
    yield from found
    if not found:
        yield from never_met(path, catalogue.steps[unsafe.step], catalogue, unsafe.when)


def _order(scheme: Scheme) -> Iterator[Problem]:
    known = [name for _, name in _ids(scheme)]
    for place, pair in enumerate(scheme.order):
        for end, name in (("before", pair.before), ("after", pair.after)):
            if name not in known:
                yield unknown(f"scheme.order[{place}].{end}", "wanted step", name, known)
    yield from _circle(scheme)


def _circle(scheme: Scheme) -> Iterator[Problem]:
    sorter: TopologicalSorter[str] = TopologicalSorter()
    for pair in scheme.order:
        sorter.add(pair.after, pair.before)
    try:
        sorter.prepare()
    except CycleError as failure:
        circle = " → ".join(failure.args[1])
        yield error("scheme.order", f"goes in a circle: {circle}; remove one of these pairs")


def _minutes(scheme: Scheme, catalogue: Catalogue) -> Iterator[Problem]:
    steps = {wanted.step for wanted in scheme.essential} & set(catalogue.steps)
    least = fsum(catalogue.steps[step].minutes for step in steps)
    if least > scheme.minutes:
        yield warning(
            "scheme.minutes",
            f"the essential steps alone take {least:g} minutes; allow at least that",
        )
