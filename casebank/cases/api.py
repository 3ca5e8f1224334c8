"""The API of cases: list and create, read and replace a version under its ETag."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework import serializers, status
from rest_framework.pagination import CursorPagination
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from casebank.cases.actions import create_case, save_draft
from casebank.cases.documents import MAX_BYTES
from casebank.cases.errors import NoCatalogue, Refused, StaleEdit, UnreadableDocument
from casebank.cases.models import CaseVersion
from casebank.cases.policies import may_edit, may_write, visible_versions
from casebank.cases.queries import numbered_version_for, review_of
from casebank.core.api.incoming import IDEMPOTENCY
from casebank.core.api.once import once
from casebank.core.api.problems import ProblemError
from casebank.core.http.etag import PreconditionFailedError, etag_of, is_unchanged, require_match
from casebank.domain.casefile.problems import Problem


class VersionSummary(serializers.ModelSerializer[CaseVersion]):
    """A version without its document."""

    id = serializers.UUIDField(source="case_id")
    version = serializers.IntegerField(source="number")
    author = serializers.CharField(source="author.name")

    class Meta:
        model = CaseVersion
        fields = ("id", "version", "title", "state", "author", "edited_at", "lock")


class ProblemShape(serializers.Serializer[Any]):
    """One problem of the case check."""

    path = serializers.CharField()
    severity = serializers.ChoiceField(["error", "warning"])
    message = serializers.CharField()


class VersionShape(VersionSummary):
    """A version with its document and the case check of it."""

    document = serializers.DictField()
    problems = ProblemShape(many=True)

    class Meta(VersionSummary.Meta):
        fields = (*VersionSummary.Meta.fields, "checksum", "document", "problems")  # type: ignore[assignment]


class DocumentSent(serializers.Serializer[Any]):
    """A document to store."""

    document = serializers.DictField()


class ByEdit(CursorPagination):
    """Last edited first."""

    page_size = 50
    ordering = ("-edited_at", "-pk")


class CasesView(APIView):
    """Every version the caller may see; begin a case."""

    @extend_schema(responses=VersionSummary(many=True))
    def get(self, request: Request) -> Response:
        """List, last edited first, by cursor."""
        seen = visible_versions(_user(request)).select_related("author").defer("document")
        pages = ByEdit()
        page = pages.paginate_queryset(seen, request, view=self)
        return pages.get_paginated_response(VersionSummary(page, many=True).data)

    @extend_schema(request=DocumentSent, responses={201: VersionShape}, parameters=[IDEMPOTENCY])
    @once
    def post(self, request: Request) -> Response:
        """Store a document, complete or not, as the first draft of a new case."""
        if not may_write(_user(request)):
            raise ProblemError(403, "not-an-author", may_write(_user(request)).reason)
        try:
            version = create_case(document=_document_in(request), by=_user(request))
        except UnreadableDocument as error:
            raise unreadable(error.problems) from error
        place = f"{request.path}/{version.case_id}/versions/{version.number}"
        answer = version_response(version, status.HTTP_201_CREATED)
        answer["Location"] = request.build_absolute_uri(place)
        return answer


class VersionView(APIView):
    """One version."""

    @extend_schema(responses=VersionShape)
    def get(self, request: Request, case: UUID, number: int) -> Response:
        """Read it; the ETag names the edit."""
        version = numbered_version_for(_user(request), case, number)
        if is_unchanged(request.headers, version.lock):
            return Response(status=304, headers={"ETag": etag_of(version.lock)})
        return version_response(version)

    @extend_schema(request=DocumentSent, responses=VersionShape)
    def put(self, request: Request, case: UUID, number: int) -> Response:
        """Replace the draft's document; If-Match must name the edit it started from."""
        version = numbered_version_for(_user(request), case, number)
        verdict = may_edit(_user(request), version)
        if not verdict:
            raise ProblemError(409, "not-editable", verdict.reason)
        require_match(request.headers, version.lock)
        return version_response(_saved(version, _document_in(request), request))


def _saved(version: CaseVersion, document: dict[str, Any], request: Request) -> CaseVersion:
    try:
        return save_draft(
            version=version, document=document, lock=version.lock, by=_user(request)
        )  # fmt: skip
    except StaleEdit as error:
        raise PreconditionFailedError from error
    except Refused as error:
        raise ProblemError(409, "not-editable", str(error)) from error
    except UnreadableDocument as error:
        raise unreadable(error.problems) from error


def version_response(version: CaseVersion, code: int = 200) -> Response:
    """A version with its document, its case check and its ETag."""
    try:
        problems = listed(review_of(version).problems)
    except NoCatalogue as error:
        raise ProblemError(503, "no-catalogue", str(error)) from error
    shape = VersionSummary(version).data | {
        "checksum": version.checksum,
        "document": version.document,
        "problems": problems,
    }
    return Response(shape, status=code, headers={"ETag": etag_of(version.lock)})


def listed(problems: Any) -> list[dict[str, str]]:
    """Problems as the API writes them."""
    found: tuple[Problem, ...] = tuple(problems)
    return [{"path": p.path, "severity": p.severity, "message": p.message} for p in found]


def unreadable(problems: Any) -> ProblemError:
    """422 with every place."""
    detail = "This document cannot be kept as it is. Correct what is listed in errors."
    return ProblemError(422, "unreadable-document", detail, errors=listed(problems))


def _document_in(request: Request) -> dict[str, Any]:
    if int(request.headers.get("Content-Length") or 0) > 2 * MAX_BYTES:
        raise ProblemError(413, "too-large", "A case document is smaller than 1 MB.")
    sent = request.data
    document = sent.get("document") if isinstance(sent, dict) else None
    if not isinstance(document, dict):
        raise serializers.ValidationError({"document": ["Send the case document as an object."]})
    return document


def _user(request: Request) -> Any:
    return request.user
