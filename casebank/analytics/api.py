"""Cohort reports without a browser."""

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
from accounts.permissions import Permission
from casebank.analytics import actions, queries
from casebank.analytics.models import CohortReport
from casebank.core.api.incoming import IDEMPOTENCY
from casebank.core.api.once import once


class CohortOut(serializers.Serializer[Any]):
    """A cohort one may ask about."""

    slug = serializers.SlugField()
    name = serializers.CharField()


class ReportOut(serializers.Serializer[Any]):
    """A report with the state of its job; ``result`` once it is compiled."""

    id = serializers.UUIDField()
    cohort = serializers.SlugField(source="cohort.slug")
    cutoff = serializers.DateTimeField()
    job = serializers.UUIDField(source="job_id", allow_null=True)
    state = serializers.CharField(source="job.state", default="done")
    percent = serializers.IntegerField(source="job.percent", default=100)
    result = serializers.JSONField(allow_null=True)


class Reporting(BasePermission):
    """Tutors and coordinators."""

    message = "Cohort reports are for tutors and coordinators."

    def has_permission(self, request: Request, view: APIView) -> bool:
        """The same rule as the pages'."""
        wanted = {Permission.REPORT_OWN_COHORTS, Permission.REPORT_ALL_COHORTS}
        return bool(wanted & _person(request).permissions)


def _person(request: Request) -> User:
    return cast("User", request.user)


class Cohorts(APIView):
    """The cohorts one may ask about."""

    permission_classes = (IsAuthenticated, Reporting)

    @extend_schema(responses=CohortOut(many=True))
    def get(self, request: Request) -> Response:
        """All of them, by name."""
        return Response(CohortOut(queries.cohorts_for(_person(request)), many=True).data)


class Reports(APIView):
    """The reports of a cohort."""

    permission_classes = (IsAuthenticated, Reporting)

    @extend_schema(request=None, responses={202: ReportOut}, parameters=[IDEMPOTENCY])
    @once
    def post(self, request: Request, slug: str) -> Response:
        """Ask for a report on the cohort as it stands now."""
        cohort = queries.cohort_for(_person(request), slug)
        made = actions.ask_for_report(cohort=cohort, by=_person(request))
        found = CohortReport.objects.select_related("cohort", "job").get(pk=made.pk)
        return Response(ReportOut(found).data, status=202)


class OneReport(APIView):
    """One report."""

    permission_classes = (IsAuthenticated, Reporting)

    @extend_schema(responses=ReportOut)
    def get(self, request: Request, pk: UUID) -> Response:
        """The report and how far its job is."""
        return Response(ReportOut(queries.report_for(_person(request), pk)).data)
