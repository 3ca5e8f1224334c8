"""The job that runs simulated learners through a case; it touches no encounter."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any
from uuid import UUID

from django.urls import reverse

from casebank.cases.library import catalogue_of
from casebank.core.jobs.errors import JobFailedError
from casebank.core.jobs.progress import Progress
from casebank.core.jobs.registry import JobContext, job
from casebank.domain.casefile.compile import CompiledCase, compile_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.encounter.model import EncounterError
from casebank.domain.examination.readings import SignReader
from casebank.domain.rehearsal import CAREFUL, KINDS, Outcome, company, outcome_of, report_of, walk
from casebank.rehearsals import actions
from casebank.rehearsals.models import Rehearsal


@job(actions.KIND)
def run_rehearsal(context: JobContext) -> dict[str, Any]:
    """Run every learner; seeded, so the same result however often it runs."""
    rehearsal = Rehearsal.objects.get(pk=UUID(context.arguments["rehearsal"]))
    if rehearsal.result is None:
        document = CaseDocument.model_validate(rehearsal.document)
        case = compile_case(document, catalogue_of(rehearsal.catalogue_id))
        result = _rehearsed(case, context.progress)
        actions.store_result(rehearsal_id=rehearsal.pk, result=result)
    return {"url": reverse("rehearsals:rehearsal", args=[rehearsal.pk])}


def _rehearsed(case: CompiledCase, progress: Progress) -> dict[str, Any]:
    reader = SignReader(case.catalogue.vocabulary)
    learners = company()
    walks: dict[str, list[Outcome]] = {kind.slug: [] for kind in KINDS}
    try:
        for place, (kind, learner) in enumerate(learners):
            words = f"Learner {place + 1} of {len(learners)}"
            progress.percent(100 * place / (len(learners) + 1), words)
            walks[kind.slug].append(outcome_of(case, walk(case, learner, reader)))
        careful = outcome_of(case, walk(case, CAREFUL, reader))
    except EncounterError as error:
        raise JobFailedError(f"A learner could not do what the scheme asks. {error}") from error
    return asdict(report_of(case, walks, careful))
