"""Tutors' comments and adjustments through the API."""

from __future__ import annotations

from typing import Any, cast
from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.permissions import IsAuthenticated
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.models import User
from casebank.core.api.incoming import IDEMPOTENCY, valid
from casebank.core.api.once import once
from casebank.core.api.problems import ProblemError
from casebank.encounters.debriefing import actions
from casebank.encounters.debriefing.presenting import adjustment_data, comment_data
from casebank.encounters.debriefing.queries import judged_by

S = serializers


class CommentIn(S.Serializer[Any]):
    """A comment on a debrief, or on one entry of its sheet."""

    text = S.CharField(max_length=2000)
    entry = S.IntegerField(min_value=1, required=False, allow_null=True, default=None)


class CommentOut(S.Serializer[Any]):
    """A comment as stored."""

    id = S.IntegerField()
    entry = S.IntegerField(allow_null=True)
    text = S.CharField()
    by = S.CharField()
    at = S.DateTimeField()


class AdjustmentIn(S.Serializer[Any]):
    """A total beside the computed mark."""

    total = S.FloatField(min_value=0, max_value=100)
    reason = S.CharField(max_length=1000)


class AdjustmentOut(S.Serializer[Any]):
    """An adjustment as stored."""

    id = S.IntegerField()
    total = S.FloatField()
    reason = S.CharField()
    by = S.CharField()
    at = S.DateTimeField()


class Comments(APIView):
    """Comments on a debrief."""

    permission_classes = (IsAuthenticated,)

    @extend_schema(request=CommentIn, responses={201: CommentOut}, parameters=[IDEMPOTENCY])
    @once
    def post(self, request: Request, pk: UUID) -> Response:
        """Add a comment; 404 but for tutors of the student's cohort."""
        encounter, data = judged_by(_person(request), pk), valid(CommentIn, request)
        try:
            made = actions.comment(
                encounter=encounter,
                text=data["text"],
                entry_seq=data["entry"],
                by=_person(request),
            )
        except actions.EntryMissingError as error:
            raise ProblemError(422, "not-possible", str(error)) from error
        return Response(comment_data(made), status=201)


class Adjustments(APIView):
    """Totals beside a computed mark."""

    permission_classes = (IsAuthenticated,)

    @extend_schema(request=AdjustmentIn, responses={201: AdjustmentOut}, parameters=[IDEMPOTENCY])
    @once
    def post(self, request: Request, pk: UUID) -> Response:
        """Put a total beside the mark; 404 but for tutors of the student's cohort."""
        encounter, data = judged_by(_person(request), pk), valid(AdjustmentIn, request)
        made = actions.adjust(
            encounter=encounter,
            total=data["total"],
            reason=data["reason"],
            by=_person(request),
        )
        return Response(adjustment_data(made), status=201)


def _person(request: Request) -> User:
    return cast("User", request.user)
