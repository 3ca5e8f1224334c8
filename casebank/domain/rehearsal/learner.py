"""A simulated learner: which steps it does, how well, in what order, and what it concludes.

Invented behaviour for rehearsals and demonstrations; it claims nothing about real students. The
same seed gives the same walk.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Wanted
from casebank.domain.encounter.knowledge import supported_diagnoses
from casebank.domain.encounter.model import Request, State
from casebank.domain.examination.conditions import meets
from casebank.domain.examination.model import Method, Need, Step
from casebank.domain.rehearsal.chance import logistic

MOST_STRAY_STEPS = 8


@dataclass(frozen=True)
class Learner:
    """``ability`` in logits (0 is middling) and a seed of its own."""

    ability: float
    seed: int


AFTER = 0.5
"""How far behind another a step stands that the scheme wants after it."""


def plan_of(case: CompiledCase, learner: Learner) -> list[Request]:
    """The requests this learner makes, in order.

    An essential of difficulty d is done with probability logistic(ability - d), well with
    logistic(ability - d - 0.5); routine steps half a logit more readily; stray steps creep in,
    the more the less able.
    """
    rng = np.random.default_rng([learner.seed, 1])
    scheme = case.document.scheme
    places = _places(case)
    chosen: list[tuple[float, Request]] = []
    for place, item in enumerate((*scheme.essential, *scheme.routine)):
        ease = 0.0 if place < len(scheme.essential) else 0.5
        difficulty = _difficulty(item.id) - ease
        if rng.random() < logistic(learner.ability - difficulty):
            well = rng.random() < logistic(learner.ability - difficulty - 0.5)
            order = places[item.id] + rng.normal(0, 2.5 * logistic(-learner.ability))
            chosen.append((order, _request(case, item, well=well)))
    chosen += _courtesies(case, learner, rng)
    chosen += _strays(case, learner, rng)
    return [request for _, request in sorted(chosen, key=lambda pair: pair[0])]


def _difficulty(name: str) -> float:
    """A fixed difficulty between -2.2 and 0.8 logits for each item, from its name alone."""
    spread = sum(ord(letter) * (place + 7) for place, letter in enumerate(name)) % 31
    return -2.2 + 3.0 * spread / 30


def _places(case: CompiledCase) -> dict[str, float]:
    """Where each item stands: in its usual place, or after what the scheme wants before it."""
    scheme = case.document.scheme
    places = {item.id: _usual_place(case, item) for item in (*scheme.essential, *scheme.routine)}
    for _ in places:
        for pair in scheme.order:
            places[pair.after] = max(places[pair.after], places[pair.before] + AFTER)
    return places


def _usual_place(case: CompiledCase, item: Wanted) -> float:
    """Courtesies, a look, the treatment that cannot wait, then asking to tests in their order."""
    step = case.catalogue.steps[item.step]
    if step.provides:
        return -5.0
    if step.method in (Method.INSPECT, Method.TREAT):
        return -2.0 if step.method is Method.INSPECT else -1.0
    methods = list(Method)
    return 4.0 * methods.index(step.method)


def _request(case: CompiledCase, item: Wanted, *, well: bool) -> Request:
    """The item's step with a technique that counts and, if ``well``, is the recommended one."""
    step = case.catalogue.steps[item.step]
    wanted = {**item.when, **(item.well if well else {})}
    technique = {}
    for slot, condition in wanted.items():
        fitting = _fitting(case, step, slot, condition)
        if fitting:
            technique[slot] = fitting[0]
    return Request(step.slug, technique)


def _fitting(case: CompiledCase, step: Step, slot: str, condition: str) -> list[str]:
    taken = step.slot(slot)
    values = taken.values if taken else ()
    return [value for value in values if meets({slot: value}, {slot: condition}, case.catalogue)]


def _courtesies(
    case: CompiledCase, learner: Learner, rng: np.random.Generator
) -> list[tuple[float, Request]]:
    """What the scheme demands first, done by nearly everybody, if the plan lacks it."""
    scheme = case.document.scheme
    planned = {item.step for item in (*scheme.essential, *scheme.routine)}
    fulfil = {step.provides: step.slug for step in case.catalogue.steps.values() if step.provides}
    steps = [fulfil[Need(need)] for need in scheme.demands if Need(need) in fulfil]
    return [
        (-6.0, Request(slug))
        for slug in steps
        if slug not in planned and rng.random() < logistic(learner.ability + 2.5)
    ]


def _strays(
    case: CompiledCase, learner: Learner, rng: np.random.Generator
) -> list[tuple[float, Request]]:
    simple = [step.slug for step in case.catalogue.steps.values() if not step.parts]
    most = min(MOST_STRAY_STEPS, len(simple))
    count = rng.binomial(most, logistic(-0.5 - learner.ability))
    picked = rng.choice(simple, size=count, replace=False)
    return [(float(rng.uniform(0, 36)), Request(str(slug))) for slug in picked]


def conclusion_of(case: CompiledCase, learner: Learner, state: State) -> Mapping[str, float]:
    """The final differential: the supported posterior, blurred the more the less able."""
    rng = np.random.default_rng([learner.seed, 2])
    belief = supported_diagnoses(case, state)
    noise = rng.dirichlet(np.full(len(belief), 1.5))
    share = 0.15 + 0.6 * logistic(-learner.ability)
    mixed = (1 - share) * belief + share * noise
    whole = np.floor(100 * mixed) / 100
    return {name: float(p) for name, p in zip(case.hypotheses, whole, strict=True)}
