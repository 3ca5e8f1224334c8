"""Reads for cohort reports: whom one may ask about, and the matrices, aggregated in SQL."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

import numpy as np
from django.db import connection
from django.db.models import QuerySet
from django.http import Http404
from numpy.typing import NDArray

from accounts.models import Cohort, User
from accounts.policies import reportable_cohorts
from casebank.analytics.figures import ReasonCount
from casebank.analytics.models import CohortReport

FIRST_CONCLUDED = """
    SELECT DISTINCT ON (e.student_id, e.version_id) e.id, e.student_id, e.version_id
      FROM encounters_encounter e
      JOIN accounts_membership m ON m.user_id = e.student_id
     WHERE m.cohort_id = %s AND m.role_id = 'student' AND e.concluded_at <= %s
     ORDER BY e.student_id, e.version_id, e.concluded_at
"""
MARKS = f"""
    WITH first AS ({FIRST_CONCLUDED})
    SELECT first.version_id, first.student_id, k.total,
           jsonb_path_query_array(
               k.result, '$.domains[*] ? (@.domain == "coverage").points[*].earned')
      FROM first JOIN encounters_mark k ON k.encounter_id = first.id
     WHERE k.marking_version = (SELECT max(marking_version) FROM encounters_mark x
                                 WHERE x.encounter_id = first.id)
     ORDER BY first.version_id, first.student_id
"""  # noqa: S608  no value of a person is spliced in
ADJUSTED = f"""
    WITH first AS ({FIRST_CONCLUDED})
    SELECT DISTINCT ON (first.id) first.version_id, first.student_id, a.total
      FROM first JOIN encounters_markadjustment a ON a.encounter_id = first.id
     WHERE a.at <= %s
     ORDER BY first.id, a.id DESC
"""  # noqa: S608
REASONS = f"""
    WITH first AS ({FIRST_CONCLUDED})
    SELECT first.version_id, t.payload -> 'charge' ->> 'reason', count(*),
           sum((t.payload -> 'charge' ->> 'surcharge')::float), count(DISTINCT first.student_id)
      FROM first JOIN encounters_entry t ON t.encounter_id = first.id AND t.kind = 'request'
     GROUP BY 1, 2 ORDER BY 1, 2
"""  # noqa: S608


@dataclass(frozen=True)
class CaseMatrix:
    """One case's marks: students (n,), totals (n,) 0-100, earned (n, k) as 0 or 1."""

    version_id: UUID
    students: tuple[int, ...]
    totals: NDArray[np.float64]
    done: NDArray[np.float64]


def cohorts_for(user: User) -> QuerySet[Cohort]:
    """The cohorts this person may ask reports on."""
    return reportable_cohorts(user).order_by("name")


def cohort_for(user: User, slug: str) -> Cohort:
    """One of them; Http404 otherwise."""
    found = reportable_cohorts(user).filter(slug=slug).first()
    if found is None:
        raise Http404
    return found


def reports_for(user: User) -> QuerySet[CohortReport]:
    """The reports on cohorts this person may ask about, newest first."""
    return (
        CohortReport.objects.filter(cohort__in=reportable_cohorts(user))
        .select_related("cohort", "job", "asked_by")
        .order_by("-asked_at")
    )


def report_for(user: User, pk: UUID) -> CohortReport:
    """One of them; Http404 otherwise."""
    found = reports_for(user).filter(pk=pk).first()
    if found is None:
        raise Http404
    return found


def matrices(cohort_id: int, cutoff: datetime) -> list[CaseMatrix]:
    """Every case's matrix from each student's first concluded encounter up to the cutoff."""
    with connection.cursor() as cursor:
        cursor.execute(MARKS, [cohort_id, cutoff])
        rows = cursor.fetchall()
    versions = dict.fromkeys(row[0] for row in rows)
    return [matrix_of(version, [row for row in rows if row[0] == version]) for version in versions]


def matrix_of(version: UUID, rows: list[tuple[UUID, int, float, list[float] | str]]) -> CaseMatrix:
    """Rows of version, student, total and earned points as one case's matrix."""
    earned = np.array([_numbers(row[3]) for row in rows], dtype=np.float64)
    return CaseMatrix(
        version_id=version,
        students=tuple(row[1] for row in rows),
        totals=np.array([row[2] for row in rows], dtype=np.float64),
        done=(earned > 0).astype(np.float64),
    )


def _numbers(value: list[float] | str) -> list[float]:
    """The driver gives JSON as text on a plain cursor."""
    import json

    return json.loads(value) if isinstance(value, str) else value


def adjusted_totals(cohort_id: int, cutoff: datetime) -> dict[UUID, dict[int, float]]:
    """The tutors' totals that stand beside those marks, by case and student.

    What a tutor adjusted after the cutoff does not count, so that a report stays as it is.
    """
    with connection.cursor() as cursor:
        cursor.execute(ADJUSTED, [cohort_id, cutoff, cutoff])
        found: dict[UUID, dict[int, float]] = {}
        for version, student, total in cursor.fetchall():
            found.setdefault(version, {})[student] = total
    return found


def reasons(cohort_id: int, cutoff: datetime) -> dict[UUID, list[ReasonCount]]:
    """Requests, surcharge and students by case and charge reason."""
    with connection.cursor() as cursor:
        cursor.execute(REASONS, [cohort_id, cutoff])
        found: dict[UUID, list[ReasonCount]] = {}
        for version, reason, requests, surcharge, students in cursor.fetchall():
            found.setdefault(version, []).append(ReasonCount(reason, requests, surcharge, students))
    return found
