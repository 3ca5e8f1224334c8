"""Turns a checked case document and its catalogue into what an encounter looks up at speed.

Owns the compiled form and the arithmetic from evidence to tables. Does not check the document
(see ``check``) nor decide what a request reveals (see ``casebank.domain.encounter``).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from casebank.domain.casefile.likelihoods import Accuracy, Evidence, Ratios
from casebank.domain.casefile.schema import CaseDocument, Finding, Stage, Together
from casebank.domain.evidence import sensitivity_specificity
from casebank.domain.examination.model import Catalogue

Floats = npt.NDArray[np.float64]

PRESENT, ABSENT = "present", "absent"


@dataclass(frozen=True, eq=False)
class CompiledCase:
    """A published case ready for encounters; H hypotheses, P possibilities, O outcomes.

    A possibility is what the patient may have: one hypothesis, or several together; without any
    together the possibilities are the hypotheses. ``possibilities[i]`` are its diagnoses,
    ``shares`` (P, H) deals the probability of each possibility out to them in equal parts.
    ``prior`` is (P,) and sums to 1. ``tables[finding]`` is (O, P): P(outcome | possibility), each
    column summing to 1, in the order of ``outcomes[finding]``; ``rows[finding, outcome]`` is one of
    its rows, (P,). Findings without evidence stand in none of these. All arrays are read-only.
    """

    document: CaseDocument
    catalogue: Catalogue
    findings_by_step: Mapping[str, tuple[Finding, ...]]
    hypotheses: tuple[str, ...]
    possibilities: tuple[tuple[str, ...], ...]
    shares: Floats
    prior: Floats
    tables: Mapping[str, Floats]
    outcomes: Mapping[str, tuple[str, ...]]
    rows: Mapping[tuple[str, str], Floats]
    groups: Mapping[str, str | None]
    stages: Mapping[str, Stage]
    first_stage: str

    def by_diagnosis(self, belief: Floats) -> Floats:
        """A belief in possibilities (..., P) as one in hypotheses (..., H); each row sums to 1."""
        return np.asarray(belief @ self.shares, dtype=np.float64)


def compile_case(document: CaseDocument, catalogue: Catalogue) -> CompiledCase:
    """Compile a document that passed the case check; KeyError where it names what is missing."""
    hypotheses = tuple(item.diagnosis for item in document.hypotheses)
    evidence = {item.id: item.evidence for item in document.findings if item.evidence}
    outcomes = {finding: outcome_names(found) for finding, found in evidence.items()}
    tables = {
        finding: outcome_table(found, hypotheses, document.together)
        for finding, found in evidence.items()
    }
    possibilities = possibilities_of(hypotheses, document.together)
    return CompiledCase(
        document=document,
        catalogue=catalogue,
        findings_by_step=_by_step(document),
        hypotheses=hypotheses,
        possibilities=possibilities,
        shares=_read_only([[_share(name, one) for name in hypotheses] for one in possibilities]),
        prior=_read_only(list(document.priors)),
        tables=tables,
        outcomes=outcomes,
        rows={
            (finding, name): tables[finding][place]
            for finding, names in outcomes.items()
            for place, name in enumerate(names)
        },
        groups={finding: found.group for finding, found in evidence.items()},
        stages={stage.id: stage for stage in document.stages},
        first_stage=document.stages[0].id,
    )


def possibilities_of(
    hypotheses: tuple[str, ...], together: Sequence[Together]
) -> tuple[tuple[str, ...], ...]:
    """What the patient may have: each hypothesis by itself, then what the case states together."""
    return (*((name,) for name in hypotheses), *(one.diagnoses for one in together))


def outcome_names(evidence: Evidence) -> tuple[str, ...]:
    """The outcomes this evidence knows: those of its table, or present and absent."""
    if evidence.pair:
        return (PRESENT, ABSENT)
    return tuple(row.outcome for row in evidence.table)


def outcome_table(
    evidence: Evidence, hypotheses: tuple[str, ...], together: Sequence[Together] = ()
) -> Floats:
    """P(outcome | possibility) as (O, P), rows as ``outcome_names`` gives them."""
    if evidence.pair:
        return _pair_table(evidence.pair, possibilities_of(hypotheses, together))
    names = (*hypotheses, *(one.id for one in together))
    return _read_only([[row.given[name] for name in names] for row in evidence.table])


def is_target(pair: Ratios | Accuracy, possibility: Sequence[str]) -> bool:
    """Whether these numbers speak for a patient who has these diagnoses: for any of them."""
    return not set(possibility).isdisjoint(pair.targets)


def sensitivity_and_specificity(pair: Ratios | Accuracy) -> tuple[float, float]:
    """The two as given, or those that a pair of ratios stands for."""
    if isinstance(pair, Accuracy):
        return pair.sensitivity, pair.specificity
    return sensitivity_specificity(pair.positive, pair.negative)


def _pair_table(pair: Ratios | Accuracy, possibilities: Sequence[Sequence[str]]) -> Floats:
    sensitivity, specificity = sensitivity_and_specificity(pair)
    present = [sensitivity if is_target(pair, one) else 1 - specificity for one in possibilities]
    return _read_only([present, [1 - chance for chance in present]])


def _share(name: str, possibility: Sequence[str]) -> float:
    return (name in possibility) / len(possibility)


def _by_step(document: CaseDocument) -> dict[str, tuple[Finding, ...]]:
    steps: dict[str, list[Finding]] = {}
    for finding in document.findings:
        steps.setdefault(finding.step, []).append(finding)
    return {step: tuple(found) for step, found in steps.items()}


def _read_only(values: list[float] | list[list[float]]) -> Floats:
    array = np.array(values, dtype=np.float64)
    array.flags.writeable = False
    return array
