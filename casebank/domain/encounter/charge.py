"""What a request costs, and why: one of `due`, `repeat`, `unneeded`, `unsafe`.

Price = minutes + 2 x discomfort + resource units. Minutes always pass; the surcharge falls on
what was unnecessary at that moment, judged by the case's scheme and by expected information.
"""

from __future__ import annotations

from collections.abc import Iterator

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Wanted
from casebank.domain.encounter.knowledge import information_of
from casebank.domain.encounter.model import Asked, Charge, Reason, State
from casebank.domain.examination.conditions import meets
from casebank.domain.examination.model import Need, Step, Technique

NEED_WORDS = {
    Need.HYGIENE: "clean hands",
    Need.CONSENT: "introduction and consent",
    Need.CHAPERONE: "the offer of a chaperone",
}


def charge_for(
    case: CompiledCase, state: State, step: Step, technique: Technique
) -> tuple[Charge, tuple[str, ...]]:
    """The charge for this step done now, and the safety flags it raises."""
    flags = tuple(dict.fromkeys(_flags(case, state, step, technique)))
    if flags:
        return _charge(case, step, "unsafe", step.price, 0.0, " ".join(flags)), flags
    wanted = wanted_by(case, state, step.slug, technique)
    if (before := last_same(state, step.slug, technique)) and not _again_due(wanted, before, state):
        words = f"Done the same way at minute {before.minute:g}; nothing has changed since."
        return _charge(case, step, "repeat", step.price, 0.0, words), ()
    bits = round(information_of(case, state, step.slug, technique), 6)
    tau = case.document.scheme.tau
    if wanted or bits >= tau or _is_courtesy(state, step):
        return _charge(case, step, "due", 0.0, bits, "No surcharge."), ()
    surcharge = round(step.price * (1 - bits / tau), 6)
    words = (
        f"Expected to add {bits:.3f} bit, below {tau:g}: "
        f"{step.price:g} × (1 − {bits:.3f}/{tau:g}) = {surcharge:.2f}."
    )
    return _charge(case, step, "unneeded", surcharge, bits, words), ()


def _charge(
    case: CompiledCase, step: Step, reason: Reason, surcharge: float, bits: float, words: str
) -> Charge:
    return Charge(
        minutes=step.minutes,
        surcharge=surcharge,
        price=step.price,
        reason=reason,
        information=bits,
        tau=case.document.scheme.tau,
        words=words,
    )


def _is_courtesy(state: State, step: Step) -> bool:
    """Clean hands, consent and a chaperone are never unneeded the first time."""
    return step.provides is not None and all(asked.step != step.slug for asked in state.asked)


def wanted_by(
    case: CompiledCase, state: State, step: str, technique: Technique
) -> tuple[Wanted, ...]:
    """The essential and routine items of the scheme that this request meets now."""
    scheme = case.document.scheme
    return tuple(
        item
        for item in (*scheme.essential, *scheme.routine)
        if item.step == step
        and (not item.stages or state.stage in item.stages)
        and meets(technique, item.when, case.catalogue)
    )


def last_same(state: State, step: str, technique: Technique) -> Asked | None:
    """The last time the same step was done the same way in the present stage."""
    return next(
        (
            asked
            for asked in reversed(state.asked)
            if asked.step == step
            and asked.stage == state.stage
            and asked.technique == dict(technique)
        ),
        None,
    )


def _again_due(wanted: tuple[Wanted, ...], before: Asked, state: State) -> bool:
    return any(
        item.again_after is not None and state.minute - before.minute >= item.again_after
        for item in wanted
    )


def _flags(case: CompiledCase, state: State, step: Step, technique: Technique) -> Iterator[str]:
    scheme = case.document.scheme
    for item in scheme.unsafe:
        in_stage = not item.stages or state.stage in item.stages
        if item.step == step.slug and in_stage and meets(technique, item.when, case.catalogue):
            yield item.why
    done = {case.catalogue.steps[asked.step].provides for asked in state.asked}
    for need in sorted(step.needs):
        if need.value in scheme.demands and need not in done:
            yield f"This step needs {NEED_WORDS[need]} first."
