"""What would have helped most at the end: expected information against price, over the catalogue.

For the debrief only: it looks at findings that were never asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.debrief.signs import deciding_sign
from casebank.domain.encounter.knowledge import information_of_many
from casebank.domain.encounter.model import State
from casebank.domain.encounter.reveal import findings_at
from casebank.domain.examination.conditions import meets
from casebank.domain.examination.model import Technique

LEAST_BITS = 0.005


@dataclass(frozen=True)
class NextStep:
    """A step with the technique that tells most now: bits expected, price, bits a unit of price."""

    step: str
    technique: dict[str, str]
    bits: float
    price: float

    @property
    def per_price(self) -> float:
        """Bits for each unit of price."""
        return self.bits / self.price


def most_useful_now(case: CompiledCase, state: State, most: int = 5) -> tuple[NextStep, ...]:
    """The steps with most bits for their price; of equals the cheaper first.

    A step about which the case says nothing tells nothing, so only those with findings in force
    are weighed; what is contraindicated now and what would tell under 0.005 bit is left out.
    """
    ways = [
        (slug, way)
        for slug in case.findings_by_step
        for way in _ways(case, state, slug)
        if not _is_unsafe(case, state, slug, way)
    ]
    best: dict[str, NextStep] = {}
    for (slug, way), bits in zip(ways, information_of_many(case, state, ways), strict=True):
        if bits >= LEAST_BITS and (slug not in best or bits > best[slug].bits):
            best[slug] = NextStep(slug, way, bits, case.catalogue.steps[slug].price)
    found = sorted(best.values(), key=lambda one: (-one.per_price, one.price, one.step))
    return tuple(found[:most])


def _ways(case: CompiledCase, state: State, slug: str) -> Iterator[dict[str, str]]:
    """The deciding technique of every finding in force, then the usual one: of equals the first."""
    for finding in findings_at(case, slug, state.stage):
        sign = deciding_sign(case, finding)
        if sign is not None:
            yield sign.technique
    yield case.catalogue.steps[slug].full_technique({})


def _is_unsafe(case: CompiledCase, state: State, slug: str, way: Technique) -> bool:
    return any(
        item.step == slug
        and (not item.stages or state.stage in item.stages)
        and meets(way, item.when, case.catalogue)
        for item in case.document.scheme.unsafe
    )
