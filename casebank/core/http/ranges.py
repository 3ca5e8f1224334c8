"""Answers with a part of some bytes: one range a request (RFC 9110, 14), as players ask for."""

from __future__ import annotations

import re

from django.http import HttpRequest, HttpResponse

_RANGE = re.compile(r"bytes=(\d{0,15})-(\d{0,15})")


class UnsatisfiableError(ValueError):
    """No byte of the range exists."""


def range_of(header: str, length: int) -> tuple[int, int] | None:
    """First and last byte of the range in a header; None where the whole is to be sent.

    Several ranges, other units and malformed headers are ignored, as the standard allows.
    Raises UnsatisfiableError where the range begins behind the end, or asks for the last 0 bytes.
    """
    found = _RANGE.fullmatch(header.strip())
    if found is None or not any(found.groups()):
        return None
    first, last = found.groups()
    if not first:
        start, end = max(0, length - int(last)), length - 1
    else:
        start, end = int(first), min(int(last or length), length - 1)
        if last and int(last) < int(first):
            return None
    if start > end:
        raise UnsatisfiableError
    return start, end


def ranged(request: HttpRequest, data: bytes, content_type: str, etag: str) -> HttpResponse:
    """200 with all bytes, 206 with the range asked for, 416 where there is none, 304 if unchanged.

    A range is ignored where If-Range names another version.
    """
    if etag in request.headers.get("If-None-Match", ""):
        return _headed(HttpResponse(status=304), etag)
    asked = request.headers.get("Range", "")
    if request.headers.get("If-Range", etag) != etag:
        asked = ""
    try:
        part = range_of(asked, len(data))
    except UnsatisfiableError:
        refused = HttpResponse(status=416)
        refused["Content-Range"] = f"bytes */{len(data)}"
        return _headed(refused, etag)
    if part is None:
        return _headed(HttpResponse(data, content_type=content_type), etag)
    start, end = part
    answer = HttpResponse(data[start : end + 1], status=206, content_type=content_type)
    answer["Content-Range"] = f"bytes {start}-{end}/{len(data)}"
    return _headed(answer, etag)


def _headed(answer: HttpResponse, etag: str) -> HttpResponse:
    answer["Accept-Ranges"] = "bytes"
    answer["ETag"] = etag
    return answer
