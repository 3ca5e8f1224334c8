"""Reads of debriefs: the door, what tutors added, and a cohort's concluded encounters."""

from __future__ import annotations

from uuid import UUID

from django.db.models import F, FloatField, OuterRef, QuerySet, Subquery
from django.http import Http404

from accounts.models import Cohort, User
from casebank.encounters.models import DebriefComment, Encounter, Mark, MarkAdjustment
from casebank.encounters.policies import cohorts_taught_by, readable_debriefs, students_taught_by


def debrief_for(user: User, pk: UUID) -> Encounter:
    """An encounter whose debrief this person may read; Http404 for any other, as for none."""
    found = readable_debriefs(user).select_related("student").filter(pk=pk).first()
    if found is None:
        raise Http404
    return found


def judged_by(user: User, pk: UUID) -> Encounter:
    """A concluded encounter of a student this person teaches; Http404 otherwise."""
    encounter = debrief_for(user, pk)
    if encounter.student_id == user.pk:
        raise Http404
    return encounter


def comments_of(encounter: Encounter) -> tuple[DebriefComment, ...]:
    """What tutors said, oldest first."""
    return tuple(encounter.comments.select_related("by"))


def adjustments_of(encounter: Encounter) -> tuple[MarkAdjustment, ...]:
    """The adjustments beside the mark, oldest first; the last one stands."""
    return tuple(encounter.adjustments.select_related("by"))


def cohorts_for(user: User) -> list[Cohort]:
    """The cohorts this person teaches, by name."""
    return list(cohorts_taught_by(user).order_by("name"))


def concluded_in(user: User, cohort: Cohort) -> QuerySet[Encounter]:
    """The concluded encounters of a cohort's students, the newest first, with their marks.

    Each row has ``title``, ``total`` (computed) and ``adjusted`` (or None).
    """
    newest = Mark.objects.filter(encounter=OuterRef("pk")).order_by("-marking_version")
    beside = MarkAdjustment.objects.filter(encounter=OuterRef("pk")).order_by("-pk")
    return (
        Encounter.objects.filter(
            concluded_at__isnull=False, student_id__in=students_taught_by(user, cohort)
        )
        .select_related("student")
        .defer("live")
        .annotate(
            title=F("version__title"),
            total=Subquery(newest.values("total")[:1], output_field=FloatField()),
            adjusted=Subquery(beside.values("total")[:1], output_field=FloatField()),
        )
        .order_by("-concluded_at", "pk")
    )
