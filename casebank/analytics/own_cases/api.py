"""An author's figures without a browser."""

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
from casebank.analytics.own_cases.figures import figures_of
from casebank.analytics.own_cases.queries import figured_version
from casebank.cases.policies import may_write
from casebank.cases.queries import numbered_own_version_for


class FiguresOut(serializers.Serializer[Any]):
    """Figures of first attempts over all cohorts; ``hidden`` says why there are none."""

    title = serializers.CharField()
    n = serializers.IntegerField(allow_null=True, help_text="Students who concluded it.")
    hidden = serializers.CharField()
    floor = serializers.IntegerField(help_text="Counts below it are hidden.")
    encounters = serializers.IntegerField(allow_null=True, required=False)
    mean = serializers.FloatField(required=False)
    sd = serializers.FloatField(required=False)
    alpha = serializers.JSONField(required=False)
    bands = serializers.JSONField(required=False)
    steps = serializers.JSONField(required=False)
    reasons = serializers.JSONField(required=False)


class Writing(BasePermission):
    """Authors."""

    message = "Figures on own cases are for authors."

    def has_permission(self, request: Request, view: APIView) -> bool:
        """The same rule as the page's."""
        return bool(may_write(_person(request)))


def _person(request: Request) -> User:
    return cast("User", request.user)


class Figures(APIView):
    """How students fared with a version one writes."""

    permission_classes = (IsAuthenticated, Writing)

    @extend_schema(responses=FiguresOut)
    def get(self, request: Request, case: UUID, number: int) -> Response:
        """Facility of its steps, its marks in bands, its charges; small cells hidden."""
        user = _person(request)
        version = figured_version(user, numbered_own_version_for(user, case, number))
        return Response(FiguresOut(figures_of(version.pk)).data)
