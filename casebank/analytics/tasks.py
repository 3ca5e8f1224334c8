"""The job that compiles a cohort report."""

from __future__ import annotations

from typing import Any
from uuid import UUID

import numpy as np
from django.conf import settings
from django.urls import reverse

from casebank.analytics import actions, queries
from casebank.analytics.figures import StepItem, across_figures, case_figures
from casebank.analytics.models import CohortReport
from casebank.cases.library import compiled_version
from casebank.core.jobs.registry import JobContext, job
from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Wanted
from casebank.domain.examination.conditions import in_words


@job(actions.KIND)
def compile_report(context: JobContext) -> dict[str, Any]:
    """Compile the report from the log up to its cutoff: the same numbers however often it runs."""
    report = CohortReport.objects.get(pk=UUID(context.arguments["report"]))
    context.progress.percent(2, "Reading the marks")
    found = queries.matrices(report.cohort_id, report.cutoff)
    by_reason = queries.reasons(report.cohort_id, report.cutoff)
    floor, cases = settings.SMALL_CELL_FLOOR, []
    for place, matrix in enumerate(found):
        title, items = _items(matrix.version_id)
        context.progress.percent(10 + 80 * place / len(found), f"Case {place + 1}: {title}")
        cases.append(
            case_figures(
                title, items, matrix.done, matrix.totals, by_reason.get(matrix.version_id, []),
                floor,
            )
        )  # fmt: skip
    context.progress.percent(92, "How reliable the mark is")
    across = across_figures(_across(found), [case["title"] for case in cases], floor)
    result = {"cases": cases, "across": across, "floor": floor}
    actions.store_result(report_id=report.pk, result=result, by=None)
    return {"url": reverse("analytics:report", args=[report.pk])}


def _items(version_id: UUID) -> tuple[str, list[StepItem]]:
    case = compiled_version(version_id)
    items = [
        StepItem(wanted.id, _label(case, wanted), wanted.why)
        for wanted in case.document.scheme.essential
    ]
    return case.document.title, items


def _label(case: CompiledCase, wanted: Wanted) -> str:
    """The step's label, with what counts where several items share a step."""
    label = str(case.catalogue.steps[wanted.step].label)
    same = [one for one in case.document.scheme.essential if one.step == wanted.step]
    if len(same) == 1:
        return label
    details = in_words(wanted.when, case.catalogue)
    return f"{label} ({details})" if details else label


def _across(found: list[queries.CaseMatrix]) -> np.ndarray:
    """Students x cases totals, NaN where a student has not concluded the case."""
    students = sorted({student for matrix in found for student in matrix.students})
    place = {student: row for row, student in enumerate(students)}
    totals = np.full((len(students), len(found)), np.nan)
    for column, matrix in enumerate(found):
        totals[[place[student] for student in matrix.students], column] = matrix.totals
    return totals
