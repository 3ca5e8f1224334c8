"""How a request to the API says who it is: a bearer token whose SHA-256 we keep."""

from __future__ import annotations

import hashlib
from typing import Any

from django.utils import timezone
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework import authentication, exceptions
from rest_framework.request import Request

from accounts.models import ApiToken, User


def digest_of(token: str) -> str:
    """The SHA-256 under which a token is stored."""
    return hashlib.sha256(token.encode()).hexdigest()


class TokenAuthentication(authentication.BaseAuthentication):
    """``Authorization: Bearer <token>``; expired, revoked and unknown tokens read the same."""

    def authenticate(self, request: Request) -> tuple[User, ApiToken] | None:
        """The token's owner, or None where no bearer token was sent."""
        header = authentication.get_authorization_header(request).split()
        if not header or header[0].lower() != b"bearer":
            return None
        if len(header) != 2:
            raise exceptions.AuthenticationFailed("Send one token: Authorization: Bearer <token>.")
        return self._owner(header[1].decode("latin-1"))

    def _owner(self, token: str) -> tuple[User, ApiToken]:
        found = (
            ApiToken.objects.select_related("user")
            .filter(
                digest=digest_of(token),
                revoked_at=None,
                expires_at__gt=timezone.now(),
                user__is_active=True,
            )
            .first()
        )
        if found is None:
            raise exceptions.AuthenticationFailed("This token is not valid. Make a new one.")
        return found.user, found

    def authenticate_header(self, request: Request) -> str:
        """Say which scheme is expected."""
        return "Bearer"


class TokenScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]
    """How the published schema describes the token."""

    target_class = TokenAuthentication
    name = "token"

    def get_security_definition(self, auto_schema: Any) -> dict[str, str]:
        """A bearer token, made on the page of one's own tokens."""
        return {"type": "http", "scheme": "bearer", "description": "Made on the page Tokens."}
