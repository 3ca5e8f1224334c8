"""Entity tags from a row's version, and the condition a write must meet (RFC 9110, 6585)."""

from __future__ import annotations

import re
from collections.abc import Mapping

from rest_framework import status
from rest_framework.exceptions import APIException

STRONG_TAG = re.compile(r'"([^"]*)"')


class PreconditionRequiredError(APIException):
    """428: a write without If-Match."""

    status_code = status.HTTP_428_PRECONDITION_REQUIRED
    default_detail = "Read it first, then send its ETag as If-Match."
    default_code = "precondition-required"


class PreconditionFailedError(APIException):
    """412: it has changed since it was read."""

    status_code = status.HTTP_412_PRECONDITION_FAILED
    default_detail = "It has changed since you read it. Read it again and repeat your change."
    default_code = "precondition-failed"


def etag_of(version: object) -> str:
    """The strong tag for a version (a number or a hash): quoted, as the header wants it."""
    return f'"{version}"'


def require_match(headers: Mapping[str, str], version: object) -> None:
    """Let a write pass only if its If-Match names ``version``; ``*`` passes for any.

    Raises PreconditionRequiredError without the header, PreconditionFailedError on a mismatch.
    Weak tags never match (RFC 9110, 13.1.1).
    """
    given = headers.get("If-Match", "").strip()
    if not given:
        raise PreconditionRequiredError
    if given != "*" and str(version) not in _strong_tags(given):
        raise PreconditionFailedError


def is_unchanged(headers: Mapping[str, str], version: object) -> bool:
    """Whether If-None-Match already names ``version``, so that 304 answers a read."""
    given = headers.get("If-None-Match", "").strip()
    return given == "*" or str(version) in STRONG_TAG.findall(given)


def _strong_tags(header: str) -> list[str]:
    parts = (part.strip() for part in header.split(","))
    return [part[1:-1] for part in parts if STRONG_TAG.fullmatch(part)]
