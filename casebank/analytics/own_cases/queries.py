"""Reads for an author's figures: first attempts of all cohorts' students at one version, in SQL."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from django.db import connection
from django.http import Http404

from accounts.models import User
from casebank.analytics.figures import ReasonCount
from casebank.analytics.queries import CaseMatrix, matrix_of
from casebank.cases.models import CaseVersion
from casebank.cases.policies import may_see_figures

# A person in several cohorts counts once; an encounter of the author's own does not count.
CONCLUDED = """
    SELECT e.id, e.student_id, e.version_id, e.concluded_at
      FROM encounters_encounter e
      JOIN cases_caseversion v ON v.id = e.version_id
     WHERE e.version_id = %s AND e.concluded_at IS NOT NULL AND e.student_id <> v.author_id
       AND EXISTS (SELECT 1 FROM accounts_membership m
                    WHERE m.user_id = e.student_id AND m.role_id = 'student')
"""
FIRST = f"""
    SELECT DISTINCT ON (c.student_id) c.id, c.student_id, c.version_id
      FROM ({CONCLUDED}) c ORDER BY c.student_id, c.concluded_at
"""  # noqa: S608  no value of a person is spliced in
MARKS = f"""
    WITH first AS ({FIRST})
    SELECT DISTINCT ON (first.student_id) first.version_id, first.student_id, k.total,
           jsonb_path_query_array(
               k.result, '$.domains[*] ? (@.domain == "coverage").points[*].earned')
      FROM first JOIN encounters_mark k ON k.encounter_id = first.id
     ORDER BY first.student_id, k.marking_version DESC
"""  # noqa: S608
REASONS = f"""
    WITH first AS ({FIRST})
    SELECT t.payload -> 'charge' ->> 'reason', count(*),
           sum((t.payload -> 'charge' ->> 'surcharge')::float), count(DISTINCT first.student_id)
      FROM first JOIN encounters_entry t ON t.encounter_id = first.id AND t.kind = 'request'
     GROUP BY 1 ORDER BY 1
"""  # noqa: S608
ATTEMPTS = f"""
    WITH attempts AS (SELECT count(*) AS n FROM ({CONCLUDED}) c GROUP BY c.student_id)
    SELECT count(*), coalesce(sum(n), 0), count(*) FILTER (WHERE n > 1) FROM attempts
"""  # noqa: S608


@dataclass(frozen=True)
class Attempts:
    """Students who concluded the version, their concluded encounters, students with several."""

    students: int
    encounters: int
    repeating: int


def figured_version(user: User, version: CaseVersion) -> CaseVersion:
    """The version, or Http404 unless this person may see its figures."""
    if not may_see_figures(user, version):
        raise Http404
    return version


def matrix(version_id: UUID) -> CaseMatrix | None:
    """Marks of each student's first concluded encounter; None where there is none."""
    with connection.cursor() as cursor:
        cursor.execute(MARKS, [version_id])
        rows = cursor.fetchall()
    return matrix_of(version_id, rows) if rows else None


def reasons(version_id: UUID) -> list[ReasonCount]:
    """Requests, surcharge and students of those encounters by charge reason."""
    with connection.cursor() as cursor:
        cursor.execute(REASONS, [version_id])
        return [ReasonCount(*row) for row in cursor.fetchall()]


def attempts(version_id: UUID) -> Attempts:
    """How many concluded it, how often, and how many did so again."""
    with connection.cursor() as cursor:
        cursor.execute(ATTEMPTS, [version_id])
        return Attempts(*(int(one) for one in cursor.fetchone()))
