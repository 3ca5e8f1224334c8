"""Errors of the API as problem documents (RFC 9457) with stable types.

Every ``type`` is ``urn:casebank:problem:<slug>``. A refused object reads exactly like one that
does not exist: for a person who is signed in, a refusal by an object rule is answered 404.
"""

from __future__ import annotations

from http import HTTPStatus
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse, JsonResponse
from rest_framework import exceptions
from rest_framework.response import Response
from rest_framework.views import set_rollback

CONTENT_TYPE = "application/problem+json"
URN = "urn:casebank:problem:"
SLUGS = {
    400: "bad-request",
    401: "not-signed-in",
    403: "forbidden",
    404: "not-found",
    405: "method-not-allowed",
    406: "not-acceptable",
    409: "conflict",
    412: "precondition-failed",
    415: "unsupported-media-type",
    422: "invalid",
    428: "precondition-required",
    429: "too-many-requests",
}
NOT_FOUND = "There is nothing here for you. Check the address."


class ProblemError(exceptions.APIException):
    """Raise it in an API view for a problem of its own ``slug``; ``more`` becomes members."""

    def __init__(self, status: int, slug: str, detail: str, **more: Any) -> None:
        super().__init__(detail, code=slug)
        self.status_code = status
        self.slug = slug
        self.more = more


def document(status: int, slug: str, title: str, detail: str, **more: Any) -> dict[str, Any]:
    """A problem document; ``more`` are extension members such as ``errors``."""
    body = {"type": URN + slug, "title": title, "status": status, "detail": detail}
    return body | more


def problem_response(status: int, slug: str, title: str, detail: str) -> HttpResponse:
    """The same from a plain Django view or handler."""
    body = document(status, slug, title, detail)
    return JsonResponse(body, status=status, content_type=CONTENT_TYPE)


def problem_handler(error: Exception, context: dict[str, Any]) -> Response | None:
    """DRF's exception handler; None (a 500) for what it does not know."""
    known = _known(error, context)
    if known is None:
        return None
    set_rollback()
    body = _document_of(known)
    return Response(
        body, status=body["status"], headers=_headers_of(known), content_type=CONTENT_TYPE
    )


def _known(error: Exception, context: dict[str, Any]) -> exceptions.APIException | None:
    if isinstance(error, Http404):
        return exceptions.NotFound(NOT_FOUND)
    if isinstance(error, (PermissionDenied, exceptions.PermissionDenied)):
        return _refusal(error, context)
    return error if isinstance(error, exceptions.APIException) else None


def _refusal(error: Exception, context: dict[str, Any]) -> exceptions.APIException:
    """A refused object is not there; only a lost form token or a refused role says 403."""
    if context.get("kwargs") and not str(error).startswith("CSRF"):
        return exceptions.NotFound(NOT_FOUND)
    if isinstance(error, exceptions.PermissionDenied):
        return error
    return exceptions.PermissionDenied(str(error) or None)


def _document_of(error: exceptions.APIException) -> dict[str, Any]:
    if isinstance(error, ProblemError):
        title = _title(error.status_code)
        return document(error.status_code, error.slug, title, str(error.detail), **error.more)
    if isinstance(error, exceptions.ValidationError):
        return document(
            422, "invalid", "Some of this cannot be accepted",
            "Correct what is listed in errors and send it again.",
            errors=list(_field_errors(error.detail)),
        )  # fmt: skip
    status = error.status_code
    return document(status, SLUGS.get(status, "error"), _title(status), str(error.detail))


def _field_errors(detail: Any, path: str = "") -> Any:
    """Each error as ``{"pointer": JSON pointer, "detail": sentence}`` (RFC 6901)."""
    if isinstance(detail, dict):
        for name, inner in detail.items():
            step = "" if name == "non_field_errors" else f"/{name}"
            yield from _field_errors(inner, path + step)
    elif isinstance(detail, list):
        for index, inner in enumerate(detail):
            nested = isinstance(inner, (dict, list))
            yield from _field_errors(inner, f"{path}/{index}" if nested else path)
    else:
        yield {"pointer": path, "detail": str(detail)}


def _title(status: int) -> str:
    return HTTPStatus(status).phrase


def _headers_of(error: exceptions.APIException) -> dict[str, str]:
    headers = {}
    if challenge := getattr(error, "auth_header", None):
        headers["WWW-Authenticate"] = str(challenge)
    if (wait := getattr(error, "wait", None)) is not None:
        headers["Retry-After"] = str(int(wait))
    return headers
