"""Loads the signed-in person together with their roles, in one query."""

from __future__ import annotations

from allauth.account.auth_backends import AuthenticationBackend
from django.contrib.postgres.aggregates import ArrayAgg

from accounts.models import User


class AccountBackend(AuthenticationBackend):  # type: ignore[misc]
    """Sign-in by e-mail; every page needs the person and nearly every one their roles."""

    def get_user(self, user_id: int) -> User | None:
        """The person of that id with their roles at hand, or None."""
        user = (
            User.objects.filter(pk=user_id, is_active=True)
            .annotate(granted=ArrayAgg("rolegrant__role_id", default=[]))
            .first()
        )
        if user is not None:
            user.__dict__["role_slugs"] = frozenset(slug for slug in user.granted if slug)
        return user
