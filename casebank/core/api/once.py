"""Makes a POST of the API heed its ``Idempotency-Key``; what it does stays the view's."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from contextlib import suppress
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar, cast

from django.contrib.auth.base_user import AbstractBaseUser
from django.core.exceptions import RequestDataTooBig
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from casebank.core.api.actions import Answer, KeyReusedError, answer_once
from casebank.core.api.incoming import idempotency_key
from casebank.core.api.problems import ProblemError

V = TypeVar("V", bound=APIView)
P = ParamSpec("P")
Post = Callable[Concatenate[V, Request, P], Response]
HEADERS = ("ETag", "Location")
"""Headers that belong to an answer and are kept with it."""
REUSED = (
    "You sent this Idempotency-Key before, with another body. Take a new key for a new request."
)


def once(post: Post[V, P]) -> Post[V, P]:
    """The method, answering a key that this person sent before to this address as it did then.

    The view's permissions are asked again, the rules of its object are not: the person gets what
    they were answered. A refusal is not kept, so it may be tried again with the same key.
    ProblemError (422, ``key-reused``) where the key came with another body.
    """

    @wraps(post)
    def heeding(view: V, request: Request, /, *args: P.args, **kwargs: P.kwargs) -> Response:
        key = idempotency_key(request)
        if not key:
            return post(view, request, *args, **kwargs)
        try:
            return _response(
                answer_once(
                    by=cast("AbstractBaseUser", request.user),
                    key=_digest(f"{request.path} {key}".encode()),
                    content=_content_of(request),
                    do=lambda: _answer(post(view, request, *args, **kwargs)),
                )
            )
        except KeyReusedError as error:
            raise ProblemError(422, "key-reused", REUSED) from error

    return heeding


def _content_of(request: Request) -> str:
    """A digest of the body; the order of members and white space make no difference in JSON."""
    try:
        sent: bytes = request.body
    except RequestDataTooBig as error:
        raise ProblemError(413, "too-large", "This is too much at once. Send less.") from error
    # What is no JSON the view refuses, or it takes no body and does not look.
    with suppress(ValueError, RecursionError):
        sent = json.dumps(json.loads(sent), sort_keys=True).encode()
    return _digest(sent)


def _digest(text: bytes) -> str:
    """SHA-256 as 64 hexadecimal digits, so that any length and any characters fit."""
    return hashlib.sha256(text).hexdigest()


def _answer(response: Response) -> Answer:
    headers = {name: response[name] for name in HEADERS if name in response}
    return Answer(response.status_code, _text(response.data), headers)


def _text(data: Any) -> str:
    text: bytes = JSONRenderer().render(data)
    return text.decode()


def _response(answer: Answer) -> Response:
    return Response(json.loads(answer.body), status=answer.status, headers=dict(answer.headers))
