"""Who may manage people and cohorts, and which cohorts a person sees."""

from __future__ import annotations

from django.db.models import QuerySet

from accounts.models import Cohort, User
from accounts.permissions import Permission


def may_manage_people(user: User) -> bool:
    """Coordinators only."""
    return user.may(Permission.MANAGE_PEOPLE)


def reportable_cohorts(user: User) -> QuerySet[Cohort]:
    """The cohorts whose reports this person may ask for: all, one's own as tutor, or none."""
    if user.may(Permission.REPORT_ALL_COHORTS):
        return Cohort.objects.all()
    if user.may(Permission.REPORT_OWN_COHORTS):
        return Cohort.objects.filter(membership__user=user, membership__role="tutor")
    return Cohort.objects.none()


def may_report_on(user: User, cohort: Cohort) -> bool:
    """Whether this person may ask for a report on that cohort."""
    if user.may(Permission.REPORT_ALL_COHORTS):
        return True
    teaches = cohort.membership_set.filter(user=user, role="tutor").exists()
    return user.may(Permission.REPORT_OWN_COHORTS) and teaches
