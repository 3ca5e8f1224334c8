"""Turns a checked case document and its catalogue into what an encounter looks up at speed.

Owns the compiled form and the arithmetic from evidence to tables. Does not check the document
(see ``check``) nor decide what a request reveals (see ``casebank.domain.encounter``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from casebank.domain.casefile.schema import CaseDocument, Evidence, Finding, Ratios, Stage
from casebank.domain.evidence import sensitivity_specificity
from casebank.domain.examination.model import Catalogue

Floats = npt.NDArray[np.float64]

PRESENT, ABSENT = "present", "absent"


@dataclass(frozen=True, eq=False)
class CompiledCase:
    """A published case ready for encounters; H hypotheses, O outcomes of a finding.

    ``prior`` is (H,) and sums to 1. ``tables[finding]`` is (O, H): P(outcome | hypothesis), each
    column summing to 1, in the order of ``outcomes[finding]``; ``rows[finding, outcome]`` is one of
    its rows, (H,). Findings without evidence stand in none of these. All arrays are read-only.
    """

    document: CaseDocument
    catalogue: Catalogue
    findings_by_step: Mapping[str, tuple[Finding, ...]]
    hypotheses: tuple[str, ...]
    prior: Floats
    tables: Mapping[str, Floats]
    outcomes: Mapping[str, tuple[str, ...]]
    rows: Mapping[tuple[str, str], Floats]
    groups: Mapping[str, str | None]
    stages: Mapping[str, Stage]
    first_stage: str


def compile_case(document: CaseDocument, catalogue: Catalogue) -> CompiledCase:
    """Compile a document that passed the case check; KeyError where it names what is missing."""
    hypotheses = tuple(item.diagnosis for item in document.hypotheses)
    evidence = {item.id: item.evidence for item in document.findings if item.evidence}
    outcomes = {finding: outcome_names(found) for finding, found in evidence.items()}
    tables = {finding: outcome_table(found, hypotheses) for finding, found in evidence.items()}
    return CompiledCase(
        document=document,
        catalogue=catalogue,
        findings_by_step=_by_step(document),
        hypotheses=hypotheses,
        prior=_read_only([item.prior for item in document.hypotheses]),
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


def outcome_names(evidence: Evidence) -> tuple[str, ...]:
    """The outcomes this evidence knows: those of its table, or present and absent."""
    if evidence.ratios:
        return (PRESENT, ABSENT)
    return tuple(row.outcome for row in evidence.table)


def outcome_table(evidence: Evidence, hypotheses: tuple[str, ...]) -> Floats:
    """P(outcome | hypothesis) as (O, H), rows as ``outcome_names`` gives them."""
    if evidence.ratios:
        return _ratio_table(evidence.ratios, hypotheses)
    return _read_only([[row.given[name] for name in hypotheses] for row in evidence.table])


def _ratio_table(ratios: Ratios, hypotheses: tuple[str, ...]) -> Floats:
    sensitivity, specificity = sensitivity_specificity(ratios.positive, ratios.negative)
    present = [sensitivity if name in ratios.targets else 1 - specificity for name in hypotheses]
    return _read_only([present, [1 - chance for chance in present]])


def _by_step(document: CaseDocument) -> dict[str, tuple[Finding, ...]]:
    steps: dict[str, list[Finding]] = {}
    for finding in document.findings:
        steps.setdefault(finding.step, []).append(finding)
    return {step: tuple(found) for step, found in steps.items()}


def _read_only(values: list[float] | list[list[float]]) -> Floats:
    array = np.array(values, dtype=np.float64)
    array.flags.writeable = False
    return array
