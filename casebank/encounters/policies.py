"""Who may examine patients, and whose encounters and debriefs a person sees."""

from __future__ import annotations

from django.db.models import Q, QuerySet

from accounts.models import Cohort, Membership, User
from accounts.permissions import Permission
from casebank.domain.verdict import ALLOWED, Verdict, refused
from casebank.encounters.models import Encounter


def may_practise(user: User) -> Verdict:
    """Whether this person may examine published patients."""
    if user.may(Permission.PRACTISE):
        return ALLOWED
    return refused("Your role does not examine patients.")


def visible_encounters(user: User) -> QuerySet[Encounter]:
    """One's own encounters; nobody else's."""
    return Encounter.objects.filter(student_id=user.pk)


def may_see_debrief(encounter: Encounter) -> Verdict:
    """The debrief opens with the conclusion, never before."""
    if encounter.concluded_at is not None:
        return ALLOWED
    return refused("The debrief opens when you have concluded.")


def cohorts_taught_by(user: User) -> QuerySet[Cohort]:
    """The cohorts in which this person is a tutor; none without a tutor's role."""
    if not user.may(Permission.REPORT_OWN_COHORTS):
        return Cohort.objects.none()
    return Cohort.objects.filter(membership__user=user, membership__role="tutor")


def students_taught_by(user: User, cohort: Cohort | None = None) -> QuerySet[Membership]:
    """The ids of the students of those cohorts, or of one of them, for use in a subquery."""
    cohorts = cohorts_taught_by(user)
    if cohort is not None:
        cohorts = cohorts.filter(pk=cohort.pk)
    members = Membership.objects.filter(role="student", cohort__in=cohorts.values("pk"))
    return members.values("user_id")  # type: ignore[return-value]


def readable_debriefs(user: User) -> QuerySet[Encounter]:
    """One's own encounters, and the concluded ones of students one teaches."""
    mine = Q(student_id=user.pk)
    taught = Q(concluded_at__isnull=False, student_id__in=students_taught_by(user))
    return Encounter.objects.filter(mine | taught)


def may_judge(user: User, encounter: Encounter) -> Verdict:
    """Whether this person may comment on the debrief and put a total beside its mark."""
    if encounter.concluded_at is None:
        return refused("Wait until the encounter is concluded.")
    if encounter.student_id == user.pk:
        return refused("A tutor of yours comments on your debrief, not you.")
    if students_taught_by(user).filter(user_id=encounter.student_id).exists():
        return ALLOWED
    return refused("Only tutors of the student's cohort comment on a debrief.")
