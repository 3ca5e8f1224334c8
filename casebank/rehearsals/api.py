"""Rehearsals without a browser."""

from __future__ import annotations

from typing import Any, cast
from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.permissions import BasePermission, IsAuthenticated
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.models import User
from casebank.cases.api import listed
from casebank.cases.errors import NoCatalogue, NotFit, Refused
from casebank.cases.models import CaseVersion
from casebank.cases.policies import may_write
from casebank.cases.queries import numbered_own_version_for
from casebank.core.api.incoming import IDEMPOTENCY
from casebank.core.api.once import once
from casebank.core.api.problems import ProblemError
from casebank.rehearsals import actions, queries
from casebank.rehearsals.models import Rehearsal
from casebank.rehearsals.presenting import SIMULATED


class RehearsalOut(serializers.Serializer[Any]):
    """A rehearsal with the state of its job; ``result`` once the learners have run."""

    id = serializers.UUIDField()
    version = serializers.IntegerField(source="version.number")
    asked_at = serializers.DateTimeField()
    job = serializers.UUIDField(source="job_id", allow_null=True)
    state = serializers.CharField(source="job.state", default="done")
    percent = serializers.IntegerField(source="job.percent", default=100)
    error = serializers.CharField(source="job.error", default="")
    note = serializers.CharField(default=SIMULATED, help_text="What these learners are.")
    result = serializers.JSONField(allow_null=True)


class Writing(BasePermission):
    """Authors."""

    message = "Rehearsals are for authors."

    def has_permission(self, request: Request, view: APIView) -> bool:
        """The same rule as the pages'."""
        return bool(may_write(_person(request)))


def _person(request: Request) -> User:
    return cast("User", request.user)


class Rehearsals(APIView):
    """The rehearsals of a version one writes."""

    permission_classes = (IsAuthenticated, Writing)

    @extend_schema(request=None, responses={202: RehearsalOut}, parameters=[IDEMPOTENCY])
    @once
    def post(self, request: Request, case: UUID, number: int) -> Response:
        """Let simulated learners run the version as it stands; an unchanged one runs once."""
        version = numbered_own_version_for(_person(request), case, number)
        made = _asked(version, request)
        return Response(
            RehearsalOut(queries.rehearsal_for(_person(request), made.pk)).data, status=202
        )


def _asked(version: CaseVersion, request: Request) -> Rehearsal:
    try:
        return actions.rehearse(version=version, by=_person(request))
    except NotFit as error:
        raise ProblemError(422, "not-fit", str(error), errors=listed(error.problems)) from error
    except Refused as error:
        raise ProblemError(409, "refused", str(error)) from error
    except NoCatalogue as error:
        raise ProblemError(503, "no-catalogue", str(error)) from error


class OneRehearsal(APIView):
    """One rehearsal."""

    permission_classes = (IsAuthenticated, Writing)

    @extend_schema(responses=RehearsalOut)
    def get(self, request: Request, pk: UUID) -> Response:
        """The rehearsal, how far its job is, and what came of it."""
        return Response(RehearsalOut(queries.rehearsal_for(_person(request), pk)).data)
