"""What was thought, as shown: belief against evidence, what counted, what would have helped."""

from __future__ import annotations

from collections.abc import Mapping

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.debrief.certainty import Certainty
from casebank.domain.debrief.counted import Weighed
from casebank.domain.debrief.next_steps import most_useful_now
from casebank.domain.debrief.trajectory import Trajectory
from casebank.domain.debrief.wording import chosen_words
from casebank.domain.encounter.model import State
from casebank.encounters.debriefing.shapes import Belief, EvidenceShown, NextShown


def beliefs_shown(case: CompiledCase, run: Trajectory, certainty: Certainty) -> tuple[Belief, ...]:
    """Every diagnosis considered by the case or the student, the best supported first."""
    stated = run.stated[-1].probabilities if run.stated else {}
    supported = dict(zip(run.hypotheses, run.final, strict=True))
    names = sorted({*stated, *supported}, key=lambda n: (-supported.get(n, -1.0), n))
    return tuple(_belief(case, name, stated, supported, certainty) for name in names)


def _belief(
    case: CompiledCase,
    name: str,
    stated: Mapping[str, float],
    supported: Mapping[str, float],
    certainty: Certainty,
) -> Belief:
    low, high = certainty.intervals.get(name, (None, None))
    is_known = name in supported
    before = case.by_diagnosis(case.prior)
    prior = float(before[case.hypotheses.index(name)]) if is_known else None
    return Belief(
        label=case.catalogue.diagnoses[name].label,
        stated=100 * stated.get(name, 0.0),
        supported=100 * supported[name] if is_known else None,
        is_true=name in case.document.truth,
        prior=None if prior is None else 100 * prior,
        low=None if low is None else 100 * low,
        high=None if high is None else 100 * high,
    )


def evidence_shown(
    case: CompiledCase, found: tuple[Weighed, ...], exact: tuple[str, ...] = ()
) -> tuple[EvidenceShown, ...]:
    """Findings that bear on the differential, those that counted first, the strongest first.

    ``exact`` names those that counted without an interval.
    """
    label = {finding.id: finding.label for finding in case.document.findings}
    ordered = sorted(found, key=lambda one: (not one.is_counted, -one.factor))
    return tuple(
        EvidenceShown(
            seq=one.seq,
            label=label[one.finding],
            outcome=one.outcome.replace("-", " "),
            group=(one.group or "").replace("-", " "),
            is_counted=one.is_counted,
            factor=one.factor,
            instead=label[one.instead] if one.instead else "",
            source=one.source,
            anchor=f"evidence-{one.finding}",
            assumed=one.assumed,
            is_exact=one.finding in exact,
        )
        for one in ordered
    )


def next_shown(case: CompiledCase, state: State) -> tuple[NextShown, ...]:
    """The most useful steps at the end."""
    return tuple(
        NextShown(
            label=(step := case.catalogue.steps[one.step]).label,
            technique=chosen_words(step, one.technique, case.catalogue),
            bits=one.bits,
            price=one.price,
            per_price=one.per_price,
        )
        for one in most_useful_now(case, state)
    )


def names_of(case: CompiledCase, findings: tuple[str, ...]) -> tuple[str, ...]:
    """Findings by their labels."""
    label = {finding.id: finding.label for finding in case.document.findings}
    return tuple(label[finding] for finding in findings)


def presentation_shown(case: CompiledCase) -> str:
    """Whom the percentages before the examination are of; empty where the case does not say."""
    known = case.document.presentation
    return f"{known.complaint}; {known.setting} ({known.source})" if known else ""


def together_shown(case: CompiledCase) -> tuple[str, ...]:
    """Diagnoses that the case counts with at once, by their labels."""
    labels = case.catalogue.diagnoses
    return tuple(
        " with ".join(labels[slug].label for slug in one.diagnoses)
        for one in case.document.together
    )
