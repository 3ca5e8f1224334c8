"""Writes cohort reports: asking for one, and storing what the job compiled."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from accounts.models import Cohort, User
from accounts.policies import may_report_on
from casebank.analytics.models import CohortReport
from casebank.audit.actions import record
from casebank.core.jobs.actions import enqueue

KIND = "cohort-report"


@transaction.atomic
def ask_for_report(*, cohort: Cohort, by: User) -> CohortReport:
    """Ask for a report on the cohort as it stands now; a job compiles it."""
    if not may_report_on(by, cohort):
        raise PermissionDenied("You do not teach this cohort.")
    report = CohortReport(cohort=cohort, asked_by=by, cutoff=timezone.now())
    report.job = enqueue(kind=KIND, arguments={"report": str(report.pk)}, by=by)
    report.save()
    record(name="report_asked_for", subject=report, by=by, cohort=cohort.slug)
    return report


def store_result(*, report_id: UUID, result: dict[str, Any], by: User | None) -> None:
    """Store a compiled result, once; a second run of the job finds it there and changes nothing."""
    waiting = CohortReport.objects.filter(pk=report_id, result__isnull=True)
    waiting.update(result=result, compiled_at=timezone.now())
