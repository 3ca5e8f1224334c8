"""A cohort with its tutor and its students."""

from __future__ import annotations

from accounts.models import Cohort, Membership, User


def cohort_of(slug: str, *, tutors: list[User], students: list[User]) -> Cohort:
    """A cohort of these people."""
    cohort = Cohort.objects.create(slug=slug, name=f"The {slug} year")
    for role, people in (("tutor", tutors), ("student", students)):
        Membership.objects.bulk_create(
            Membership(cohort=cohort, user=one, role_id=role) for one in people
        )
    return cohort
