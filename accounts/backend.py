"""Loads the signed-in person together with their roles, in one plain statement."""

from __future__ import annotations

from allauth.account.auth_backends import AuthenticationBackend
from django.db import connection

from accounts.models import User

COLUMNS = tuple(field.attname for field in User._meta.concrete_fields)  # noqa: SLF001
PERSON = f"""
    SELECT {", ".join(COLUMNS)},
           ARRAY(SELECT role_id FROM accounts_rolegrant WHERE user_id = accounts_user.id)
      FROM accounts_user WHERE id = %s AND is_active
"""  # noqa: S608  the names of our own columns


class AccountBackend(AuthenticationBackend):  # type: ignore[misc]
    """Sign-in by e-mail; every page needs the person and nearly every one their roles."""

    def get_user(self, user_id: int) -> User | None:
        """The person of that id with their roles at hand, or None."""
        with connection.cursor() as cursor:
            cursor.execute(PERSON, [user_id])
            row = cursor.fetchone()
        if row is None:
            return None
        user = User.from_db(connection.alias, COLUMNS, row[:-1])
        user.__dict__["role_slugs"] = frozenset(row[-1])
        return user
