"""What a request reveals: the case's findings for this stage and technique, else the normal one."""

from __future__ import annotations

from dataclasses import dataclass

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Answer, Finding
from casebank.domain.encounter.model import Seen
from casebank.domain.examination.conditions import meets
from casebank.domain.examination.model import Technique


@dataclass(frozen=True)
class Revealed:
    """The findings touched, with what each counts as, the sentences to show, and the answers.

    ``shown`` may be empty where there is something to hear or see instead.
    """

    seen: tuple[Seen, ...]
    shown: tuple[str, ...]
    answers: tuple[tuple[Finding, Answer], ...] = ()


def findings_at(case: CompiledCase, step: str, stage: str) -> tuple[Finding, ...]:
    """The case's findings on this step in this stage."""
    found = case.findings_by_step.get(step, ())
    return tuple(finding for finding in found if not finding.stages or stage in finding.stages)


def answer_of(case: CompiledCase, finding: Finding, technique: Technique) -> Answer:
    """The first answer whose conditions the full technique meets; the last one always does."""
    return next(
        answer for answer in finding.answers if meets(technique, answer.when, case.catalogue)
    )


def reveal(case: CompiledCase, step: str, technique: Technique, stage: str) -> Revealed:
    """What this step, done with this full technique in this stage, shows.

    Where nothing of the case is noticed, the catalogue's normal finding for the patient answers.
    """
    found = tuple(
        (finding, answer_of(case, finding, technique)) for finding in findings_at(case, step, stage)
    )
    shown = tuple(answer.says for _, answer in found if answer.says)
    if not shown and not any(answer.sign for _, answer in found):
        patient = case.document.patient
        shown = (case.catalogue.steps[step].normal_for(patient.age, patient.sex),)
    return Revealed(
        seen=tuple(Seen(finding.id, answer.outcome, answer.strength) for finding, answer in found),
        shown=shown,
        answers=found,
    )
