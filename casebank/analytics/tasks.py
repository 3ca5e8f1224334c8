"""The job that compiles a cohort report."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID

import numpy as np
from django.conf import settings
from django.urls import reverse

from casebank.analytics import actions, queries
from casebank.analytics.figures import across_figures, adjusted_figures, case_figures
from casebank.analytics.items import items_of
from casebank.analytics.models import CohortReport
from casebank.core.jobs.registry import JobContext, job


@job(actions.KIND)
def compile_report(context: JobContext) -> dict[str, Any]:
    """Compile the report from the log up to its cutoff: the same numbers however often it runs."""
    report = CohortReport.objects.get(pk=UUID(context.arguments["report"]))
    context.progress.percent(2, "Reading the marks")
    found = queries.matrices(report.cohort_id, report.cutoff)
    by_reason = queries.reasons(report.cohort_id, report.cutoff)
    adjusted = queries.adjusted_totals(report.cohort_id, report.cutoff)
    floor, cases = settings.SMALL_CELL_FLOOR, []
    for place, matrix in enumerate(found):
        title, items = items_of(matrix.version_id)
        context.progress.percent(10 + 80 * place / len(found), f"Case {place + 1}: {title}")
        figures = case_figures(
            title,
            items,
            matrix.done,
            matrix.totals,
            by_reason.get(matrix.version_id, []),
            floor,
        )
        if not figures["hidden"]:
            beside = _beside(matrix, adjusted.get(matrix.version_id, {}))
            figures["adjusted"] = adjusted_figures(matrix.totals, beside, floor)
        cases.append(figures)
    context.progress.percent(92, "How reliable the mark is")
    across = across_figures(_across(found), [case["title"] for case in cases], floor)
    result = {"cases": cases, "across": across, "floor": floor}
    actions.store_result(report_id=report.pk, result=result, by=None)
    return {"url": reverse("analytics:report", args=[report.pk])}


def _beside(matrix: queries.CaseMatrix, adjusted: Mapping[int, float]) -> np.ndarray:
    """The tutors' totals in the order of the matrix's students, NaN where there is none."""
    return np.array([adjusted.get(student, np.nan) for student in matrix.students])


def _across(found: list[queries.CaseMatrix]) -> np.ndarray:
    """Students x cases totals, NaN where a student has not concluded the case."""
    students = sorted({student for matrix in found for student in matrix.students})
    place = {student: row for row, student in enumerate(students)}
    totals = np.full((len(students), len(found)), np.nan)
    for column, matrix in enumerate(found):
        totals[[place[student] for student in matrix.students], column] = matrix.totals
    return totals
