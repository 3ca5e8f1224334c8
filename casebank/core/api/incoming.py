"""Reads what a request to the API sends: a valid body, and its idempotency key."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import OpenApiParameter
from rest_framework.request import Request
from rest_framework.serializers import BaseSerializer

from casebank.core.api.problems import ProblemError

LONGEST_KEY = 200
IDEMPOTENCY = OpenApiParameter(
    "Idempotency-Key",
    str,
    OpenApiParameter.HEADER,
    description=(
        "A request sent again with the same key is done once and answered the same. A key is the "
        "sender's own and counts for one address; with another body it is refused: 422, "
        "`urn:casebank:problem:key-reused`. A refused request leaves its key unused."
    ),
)


def valid(shape: type[BaseSerializer[Any]], request: Request) -> dict[str, Any]:
    """The body as the serializer reads it; ValidationError (422) names every wrong field."""
    serializer = shape(data=request.data)
    serializer.is_valid(raise_exception=True)
    return dict(serializer.validated_data)


def idempotency_key(request: Request) -> str:
    """The key the client sent, empty without one; ProblemError (400) if it is too long."""
    key = request.headers.get("Idempotency-Key", "")
    if len(key) > LONGEST_KEY:
        raise ProblemError(
            400, "bad-request", f"Keep the Idempotency-Key under {LONGEST_KEY} characters."
        )
    return key
