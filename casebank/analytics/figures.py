"""The figures of a cohort report from matrices of marks: numbers and reasons, nothing stored.

Every figure keeps the small-cell floor: what fewer persons stand behind is not given, nor what
would give it back by subtraction.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from casebank.domain.psychometrics import (
    Estimate,
    alpha,
    discrimination,
    facility,
    hold_back,
    standard_error_of_measurement,
)

Floats = NDArray[np.float64]
REASON_WORDS = {
    "due": "Due: no surcharge",
    "unneeded": "Not needed then",
    "repeat": "Repeated without change",
    "unsafe": "Unsafe",
}
ALPHA_FROM, DISCRIMINATION_FROM = 20, 30


@dataclass(frozen=True)
class StepItem:
    """An essential step of a case, as an item."""

    id: str
    label: str
    why: str


@dataclass(frozen=True)
class ReasonCount:
    """Requests of one charge reason in one case."""

    reason: str
    requests: int
    surcharge: float
    students: int


def case_figures(
    title: str,
    items: Sequence[StepItem],
    done: Floats,
    totals: Floats,
    reasons: Sequence[ReasonCount],
    floor: int,
) -> dict[str, Any]:
    """Figures of one case. ``done`` is students x items (1 done, 0 not), ``totals`` students."""
    n = len(totals)
    if n < floor:
        words = f"Fewer than {floor} students have concluded this patient; nothing is shown."
        return {"title": title, "n": None, "hidden": words}
    facilities = facility(done)
    discriminations = [hold_back(one, DISCRIMINATION_FROM) for one in discrimination(done)]
    return {
        "title": title,
        "n": n,
        "hidden": "",
        "mean": round(float(totals.mean()), 2),
        "sd": round(float(totals.std(ddof=1)), 2),
        "alpha": _plain(hold_back(alpha(done), ALPHA_FROM)),
        "steps": [
            {
                "id": item.id,
                "label": item.label,
                "why": item.why,
                **_step(f, d, float(done[:, place].sum()), n, floor),
            }
            for place, (item, f, d) in enumerate(
                zip(items, facilities, discriminations, strict=True)
            )
        ],
        "reasons": [_reason(one, n, floor) for one in sorted(reasons, key=_usual_place)],
    }


def adjusted_figures(totals: Floats, adjusted: Floats, floor: int) -> dict[str, Any]:
    """How many marks a tutor adjusted, their mean as adjusted and as computed, and that of all.

    Both are (students,); ``adjusted`` is NaN where the computed total stands alone.
    Nothing but a bound where fewer than ``floor`` were adjusted, or fewer were not: from either,
    the means of the few could be worked out. Not given over several cases for the same reason.
    """
    is_set = ~np.isnan(adjusted)
    count = int(is_set.sum())
    hidden = {"n": None, "mean": None, "computed": None, "mean_of_all": None}
    if 0 < count < floor:
        return {**hidden, "bound": f"fewer than {floor}"}
    if 0 < len(totals) - count < floor:
        return {**hidden, "bound": f"all but fewer than {floor}"}
    if not count:
        return {**hidden, "n": 0, "bound": ""}
    return {
        "bound": "",
        "n": count,
        "mean": round(float(adjusted[is_set].mean()), 2),
        "computed": round(float(totals[is_set].mean()), 2),
        "mean_of_all": round(float(np.where(is_set, adjusted, totals).mean()), 2),
    }


def _step(f: Estimate, d: Estimate, count: float, n: int, floor: int) -> dict[str, Any]:
    missed = n - count
    if 0 < missed < floor or 0 < count < floor:
        few = "did it" if count < floor else "missed it"
        return {"bound": f"fewer than {floor} {few}", "facility": None, "discrimination": None}
    if missed == 0 or count == 0:
        words = "nearly all did it" if missed == 0 else "hardly anybody did it"
        return {"bound": words, "facility": None, "discrimination": None}
    return {
        "bound": "",
        "facility": _plain(f),
        "missed": int(missed),
        "discrimination": _plain(d),
    }


def _usual_place(one: ReasonCount) -> int:
    return list(REASON_WORDS).index(one.reason)


def _reason(one: ReasonCount, n: int, floor: int) -> dict[str, Any]:
    small = 0 < one.students < floor or 0 < n - one.students < floor
    return {
        "reason": one.reason,
        "words": REASON_WORDS[one.reason],
        "requests": None if small and one.students < floor else one.requests,
        "per_student": None if one.students < floor else round(one.requests / n, 2),
        "surcharge": None if one.students < floor else round(one.surcharge / n, 2),
        "students": None if small else one.students,
    }


def across_figures(totals: Floats, titles: Sequence[str], floor: int) -> dict[str, Any]:
    """How far the mark over all cases can be relied on. ``totals``: students x cases, NaN unsat.

    Alpha over cases; the agreement of steps inside one case says nothing about it.
    """
    whole = totals[~np.isnan(totals).any(axis=1)]
    if len(whole) < floor or len(titles) < 2:
        words = f"Needs at least {floor} students who concluded all of at least two patients."
        return {"n": None, "hidden": words}
    return {
        "n": len(whole),
        "hidden": "",
        "cases": list(titles),
        "mean": round(float(whole.mean()), 2),
        "alpha": _plain(hold_back(alpha(whole), ALPHA_FROM)),
        "error": _plain(hold_back(standard_error_of_measurement(whole), ALPHA_FROM)),
    }


def _plain(estimate: Estimate) -> dict[str, Any]:
    return {
        name: round(value, 6) if isinstance(value, float) else value
        for name, value in asdict(estimate).items()
    }
