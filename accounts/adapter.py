"""How sign-in behaves: coordinators make accounts, nobody signs up alone."""

from __future__ import annotations

from allauth.account.adapter import DefaultAccountAdapter
from django.http import HttpRequest


class ClosedSignupAdapter(DefaultAccountAdapter):  # type: ignore[misc]
    """Refuses open sign-up."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Accounts are made by a coordinator."""
        return False
