"""Generalizability of one score a person and case: variance components and decision studies.

Persons x cases, crossed and complete. Case, examiner and occasion are confounded in such data.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from casebank.domain.psychometrics.consistency import feldt
from casebank.domain.psychometrics.estimate import Estimate, without_value
from casebank.domain.psychometrics.scores import NOISE, Floats, complete_rows, size_of

ANOVA = "persons x cases, ANOVA"


@dataclass(frozen=True)
class MeanSquares:
    """Mean squares of a crossed two-way table without replication."""

    person: float
    case: float
    residual: float


@dataclass(frozen=True)
class GStudy:
    """Variance components (raw: a negative one is kept) and coefficients at the cases given.

    ``generalizability`` (E rho^2) serves ranking and equals alpha; ``dependability`` (Phi) serves
    a pass mark.
    """

    person: Estimate
    case: Estimate
    residual: Estimate
    generalizability: Estimate
    dependability: Estimate


@dataclass(frozen=True)
class Decision:
    """What a test of ``cases`` cases would give: coefficients, and standard errors of a mean."""

    cases: int
    generalizability: float
    dependability: float
    relative_error: float
    absolute_error: float


@dataclass(frozen=True)
class CasesNeeded:
    """Smallest number of cases that reaches a target for ranking, and for a pass mark."""

    ranking: Estimate
    pass_mark: Estimate


def g_study(scores: ArrayLike) -> GStudy:
    """Variance components of scores (n persons, k cases); persons with a NaN are left out.

    s2(pc,e) = MS_res, s2(p) = (MS_p - MS_res)/k, s2(c) = (MS_c - MS_res)/n (Brennan 2001). For
    balanced data this equals REML where no component is negative; a negative one counts as 0 in
    the coefficients. ``undefined`` with fewer than two persons or cases or without any variance.
    """
    x = complete_rows(scores)
    n, k = size_of(x)
    if n < 2 or k < 2 or np.ptp(x) == 0:
        reason = "It takes two persons, two cases and some difference between scores."
        nothing = without_value("undefined", reason, ANOVA, n, k)
        return GStudy(nothing, nothing, nothing, nothing, nothing)
    ms = mean_squares(x)
    person, case = (ms.person - ms.residual) / k, (ms.case - ms.residual) / n
    g, phi = _coefficients(person, case, ms.residual, k)
    return GStudy(
        _component(person, n, k),
        _component(case, n, k),
        _component(ms.residual, n, k),
        _coefficient(g, "generalizability (E rho squared), Feldt interval", n, k, has_ci=True),
        _coefficient(phi, "dependability (Phi), no interval", n, k, has_ci=False),
    )


def decision_study(study: GStudy, cases: Sequence[int]) -> tuple[Decision, ...]:
    """Coefficients and errors for numbers of cases; empty if persons do not differ."""
    person, case, residual = _kept(study)
    if person <= 0 or any(number < 1 for number in cases):
        return ()
    found = []
    for number in cases:
        g, phi = _coefficients(person, case, residual, number)
        relative, absolute = residual / number, (case + residual) / number
        found.append(Decision(number, g or 0.0, phi or 0.0, relative**0.5, absolute**0.5))
    return tuple(found)


def cases_needed(study: GStudy, target: float = 0.8) -> CasesNeeded:
    """Smallest numbers of cases with which G, and Phi, reach ``target`` (between 0 and 1)."""
    if not 0 < target < 1:
        raise ValueError(f"target is {target:g}: give a coefficient between 0 and 1.")
    person, case, residual = _kept(study)
    return CasesNeeded(
        _needed(study, person, residual, target, f"cases for G of {target:g}"),
        _needed(study, person, case + residual, target, f"cases for Phi of {target:g}"),
    )


def mean_squares(x: Floats) -> MeanSquares:
    """Mean squares of a complete table (n >= 2, k >= 2); a residual that is rounding is 0."""
    n, k = size_of(x)
    deviations = x - x.mean()
    persons, cases = deviations.mean(axis=1), deviations.mean(axis=0)
    residual = deviations - persons[:, np.newaxis] - cases
    square = float(np.square(residual).sum())
    noise = NOISE * float(np.square(x).sum())
    return MeanSquares(
        person=k * float(persons @ persons) / (n - 1),
        case=n * float(cases @ cases) / (k - 1),
        residual=square / ((n - 1) * (k - 1)) if square > noise else 0.0,
    )


def _coefficients(
    person: float, case: float, residual: float, cases: int
) -> tuple[float | None, float | None]:
    if person <= 0:
        return None, None
    relative, absolute = residual / cases, (max(case, 0.0) + residual) / cases
    return person / (person + relative), person / (person + absolute)


def _component(value: float, n: int, k: int) -> Estimate:
    warning = "Negative: counted as 0 in the coefficients." if value < 0 else ""
    return Estimate(value, None, None, n, k, f"{ANOVA}, no interval", "ok", warning)


def _coefficient(value: float | None, method: str, n: int, k: int, *, has_ci: bool) -> Estimate:
    if value is None:
        reason = "Persons do not differ more than chance: no number of cases makes this reliable."
        return without_value("undefined", reason, method, n, k)
    low, high = feldt(value, n, k) if has_ci else (None, None)
    return Estimate(value, low, high, n, k, method)


def _kept(study: GStudy) -> tuple[float, float, float]:
    person, case, residual = (
        max(part.value or 0.0, 0.0) for part in (study.person, study.case, study.residual)
    )
    return person, case, residual


def _needed(study: GStudy, person: float, error: float, target: float, method: str) -> Estimate:
    n, k = study.person.n_used, study.person.k_used
    if person <= 0:
        reason = f"No number of cases reaches {target:g}: persons do not differ more than chance."
        return without_value("undefined", reason, method, n, k)
    exact = target / (1 - target) * error / person
    return Estimate(float(max(1, math.ceil(exact - 1e-9))), None, None, n, k, method)
