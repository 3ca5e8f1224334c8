"""Who may examine patients, and whose encounters a person sees."""

from __future__ import annotations

from django.db.models import QuerySet

from accounts.models import User
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
