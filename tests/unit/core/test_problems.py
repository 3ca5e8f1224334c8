"""Errors of the API: the members of RFC 9457, stable types, nothing told of what is hidden."""

from __future__ import annotations

from typing import Any

import pytest
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.test import RequestFactory
from rest_framework import exceptions, serializers
from rest_framework.permissions import AllowAny
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from casebank.core.api.problems import ProblemError
from casebank.core.http import errors


class Lines(serializers.Serializer[Any]):
    """A nested document to get wrong."""

    text = serializers.CharField()


class Order(serializers.Serializer[Any]):
    """The document."""

    title = serializers.CharField()
    lines = Lines(many=True)


def answer_to(error: Exception, **kwargs: Any) -> Response:
    """What an API view that raises ``error`` answers."""

    class Raising(APIView):
        authentication_classes = ()
        permission_classes = (AllowAny,)
        renderer_classes = (JSONRenderer,)

        def get(self, request: Request, **kwargs: Any) -> Response:
            raise error

    response: Response = Raising.as_view()(RequestFactory().get("/api/v1/x"), **kwargs)
    response.render()
    return response


@pytest.mark.parametrize(
    ("error", "status", "slug"),
    [
        (Http404(), 404, "not-found"),
        (exceptions.NotAuthenticated(), 403, "forbidden"),
        (exceptions.ParseError(), 400, "bad-request"),
        (exceptions.MethodNotAllowed("GET"), 405, "method-not-allowed"),
        (exceptions.Throttled(wait=3), 429, "too-many-requests"),
        (ProblemError(409, "already-concluded", "It is over."), 409, "already-concluded"),
    ],
)
def test_every_error_is_a_problem_document_with_a_stable_type(error, status, slug):
    answer = answer_to(error)
    assert answer.status_code == answer.data["status"] == status
    assert answer.data["type"] == f"urn:casebank:problem:{slug}"
    assert answer["Content-Type"] == "application/problem+json"
    assert {"type", "title", "status", "detail"} <= answer.data.keys()


def test_a_refused_object_reads_exactly_like_a_missing_one():
    refused = answer_to(PermissionDenied("You are not its owner."), pk=5)
    also_refused = answer_to(exceptions.PermissionDenied(), pk=5)
    missing = answer_to(Http404("No Case matches."), pk=5)
    assert refused.content == also_refused.content == missing.content
    assert refused.status_code == 404


def test_a_lost_form_token_is_not_called_missing():
    assert answer_to(exceptions.PermissionDenied("CSRF Failed: x"), pk=5).status_code == 403


def test_invalid_input_points_at_each_place():
    form = Order(data={"lines": [{"text": "ok"}, {}]})
    with pytest.raises(exceptions.ValidationError) as raised:
        form.is_valid(raise_exception=True)
    answer = answer_to(raised.value)
    assert answer.status_code == 422
    assert {error["pointer"] for error in answer.data["errors"]} == {"/title", "/lines/1/text"}


def test_more_members_may_be_added():
    answer = answer_to(ProblemError(409, "too-late", "The round is over.", closed_at="10:00"))
    assert answer.data["closed_at"] == "10:00"


def test_how_long_to_wait_is_said_in_the_header():
    assert answer_to(exceptions.Throttled(wait=3))["Retry-After"] == "3"


@pytest.mark.parametrize("status", [400, 403, 404])
def test_handlers_speak_json_to_the_api_and_pages_to_people(status):
    handler = {400: errors.bad_request, 403: errors.forbidden, 404: errors.not_found}[status]
    api = handler(RequestFactory().get("/api/v1/nothing"), Exception())
    page = handler(RequestFactory().get("/nothing"), Exception())
    assert api.status_code == page.status_code == status
    assert api["Content-Type"] == "application/problem+json"
    assert page["Content-Type"].startswith("text/html")
