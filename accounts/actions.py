"""Writes people, roles, cohorts and tokens; each leaves an audit event."""

from __future__ import annotations

import secrets
from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from accounts.api import digest_of
from accounts.models import ApiToken, Cohort, Membership, Role, RoleGrant, User
from accounts.permissions import BY_SLUG, ROLES
from casebank.audit.actions import record

TOKEN_DAYS = 90


def load_roles() -> None:
    """Store the shipped roles; running it again changes nothing."""
    for role in ROLES:
        Role.objects.update_or_create(
            slug=role.slug, defaults={"name": role.name, "description": role.description}
        )


@transaction.atomic
def create_person(*, email: str, name: str, password: str | None, by: User | None) -> User:
    """Make an account; without a password the person sets one by the reset page."""
    user = User.objects.create_user(email=email, name=name, password=password)
    record(name="person_created", subject=user, by=by)
    return user


@transaction.atomic
def grant_role(*, user: User, role: str, by: User | None) -> None:
    """Give a person a role; giving it twice changes nothing."""
    _, made = RoleGrant.objects.get_or_create(user=user, role_id=role, defaults={"granted_by": by})
    if made:
        record(name="role_granted", subject=user, by=by, role=role)


@transaction.atomic
def withdraw_role(*, user: User, role: str, by: User) -> None:
    """Take a role away; the person's work stays."""
    gone, _ = RoleGrant.objects.filter(user=user, role_id=role).delete()
    if gone:
        record(name="role_withdrawn", subject=user, by=by, role=role)


@transaction.atomic
def set_roles(*, user: User, roles: frozenset[str], by: User) -> None:
    """Make these the person's roles."""
    for slug in BY_SLUG:
        if slug in roles:
            grant_role(user=user, role=slug, by=by)
        else:
            withdraw_role(user=user, role=slug, by=by)


@transaction.atomic
def set_active(*, user: User, active: bool, by: User) -> None:
    """Let a person sign in, or not; their work stays."""
    if User.objects.filter(pk=user.pk, is_active=not active).update(is_active=active):
        record(name="person_activated" if active else "person_closed", subject=user, by=by)


@transaction.atomic
def create_cohort(*, slug: str, name: str, by: User | None) -> Cohort:
    """Make a cohort."""
    cohort = Cohort.objects.create(slug=slug, name=name)
    record(name="cohort_created", subject=cohort, by=by)
    return cohort


@transaction.atomic
def join_cohort(*, cohort: Cohort, user: User, role: str, by: User | None) -> Membership:
    """Put a person into a cohort as student or tutor; a second time changes the role."""
    member, _ = Membership.objects.update_or_create(
        cohort=cohort, user=user, defaults={"role_id": role}
    )
    record(name="cohort_joined", subject=cohort, by=by, person=user.pk, role=role)
    return member


@transaction.atomic
def leave_cohort(*, cohort: Cohort, user: User, by: User) -> None:
    """Take a person out of a cohort."""
    if Membership.objects.filter(cohort=cohort, user=user).delete()[0]:
        record(name="cohort_left", subject=cohort, by=by, person=user.pk)


@transaction.atomic
def make_token(*, user: User, name: str) -> str:
    """A new API token for oneself, shown once; only its SHA-256 is kept."""
    token = secrets.token_urlsafe(32)
    ApiToken.objects.create(
        user=user,
        name=name,
        digest=digest_of(token),
        expires_at=timezone.now() + timedelta(days=TOKEN_DAYS),
    )
    record(name="token_made", subject=user, by=user, token=name)
    return token


@transaction.atomic
def revoke_token(*, token: ApiToken, by: User) -> None:
    """End a token at once."""
    if ApiToken.objects.filter(pk=token.pk, revoked_at=None).update(revoked_at=timezone.now()):
        record(name="token_revoked", subject=by, by=by, token=token.name)
