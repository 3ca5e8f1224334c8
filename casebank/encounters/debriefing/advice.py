"""One strength and one next thing to practise, in plain words.

The strength is the best domain; what to practise is where the most weighted marks were lost.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casebank.encounters.debriefing.shapes import (
    Belief,
    DomainShown,
    Missed,
    PairShown,
    SideBySide,
    SurchargeGroup,
)

WORTH_NAMING = 50.0
HARDLY_LOST = 95.0
STRENGTHS = {
    "coverage": "You did what mattered most for this patient.",
    "technique": "You did the steps in the way that brings the signs out.",
    "order": "You examined in a sound order.",
    "interpretation": "You named rightly what you heard and saw.",
    "reasoning": "Your probabilities fitted the evidence you had.",
    "economy": "You spent little on what was not needed.",
    "safety": "You examined safely.",
}


@dataclass(frozen=True)
class Ground:
    """What advice may point at."""

    missed: Sequence[Missed]
    beside: Sequence[SideBySide]
    pairs: Sequence[PairShown]
    surcharges: Sequence[SurchargeGroup]
    beliefs: Sequence[Belief]


def strength_of(domains: Sequence[DomainShown]) -> str:
    """What went best; of equals the heavier domain."""
    marked = _marked(domains)
    best = max(marked, key=lambda d: (d.score or 0, d.weight), default=None)
    if best is None or (best.score or 0) < WORTH_NAMING:
        return "No domain stands out yet. Begin with what to practise next."
    return STRENGTHS.get(best.slug, f"{best.words}.")


def practise_of(domains: Sequence[DomainShown], ground: Ground) -> str:
    """What would gain the most, made concrete from what happened."""
    marked = _marked(domains)
    worst = max(marked, key=lambda d: d.weight * (100 - (d.score or 0)), default=None)
    if worst is None or (worst.score or 0) >= HARDLY_LOST:
        return "No domain lost much. Examine another patient."
    said = _concrete(worst, ground)
    return said or f"{worst.words}."


def _marked(domains: Sequence[DomainShown]) -> list[DomainShown]:
    return [domain for domain in domains if domain.score is not None and domain.weight > 0]


def _concrete(domain: DomainShown, ground: Ground) -> str:
    ways = {
        "coverage": lambda: _missed(ground),
        "technique": lambda: _technique(domain, ground),
        "order": lambda: _order(ground),
        "reasoning": lambda: _reasoning(ground),
        "economy": lambda: _economy(ground),
    }
    return ways[domain.slug]() if domain.slug in ways else _first_lost(domain)


def _missed(ground: Ground) -> str:
    if not ground.missed:
        return ""
    return f"{ground.missed[0].label}. {ground.missed[0].why}"


def _technique(domain: DomainShown, ground: Ground) -> str:
    """The sign of the step that lost most, by the technique that brings it out."""
    lost = sorted(domain.points, key=lambda point: point.earned - point.possible)
    near = (one for point in lost for one in ground.beside if one.seq in point.entries)
    one = next((one for one in (*near, *ground.beside) if one.sign.technique), None)
    if one is None:
        return _first_lost(domain)
    return f"{one.step}: {', '.join(one.sign.technique)}. It brings out what you did not get."


def _order(ground: Ground) -> str:
    return next((pair.words for pair in ground.pairs if not pair.is_kept), "")


def _reasoning(ground: Ground) -> str:
    off = [one for one in ground.beliefs if one.supported is not None]
    if not off:
        return ""
    one = max(off, key=lambda b: abs(b.stated - (b.supported or 0)))
    return (
        f"Weigh what you find: you gave “{one.label}” {one.stated:.0f} %, "
        f"and what you had seen supports {one.supported:.0f} %."
    )


def _economy(ground: Ground) -> str:
    if not ground.surcharges:
        return ""
    one = max(ground.surcharges[0].items, key=lambda item: item.surcharge)
    return (
        f"Ask what a step could change before you do it: “{one.label}” "
        f"cost {one.surcharge:.1f} in surcharge."
    )


def _first_lost(domain: DomainShown) -> str:
    return next((point.words for point in domain.points if point.earned < point.possible
                 or point.earned < 0), "")  # fmt: skip
