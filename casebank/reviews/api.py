"""The API of the workflow: moves of a version, and the comments on it."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework import serializers, status
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from casebank.cases.api import VersionShape, listed, version_response
from casebank.cases.errors import NoCatalogue, NotFit, Refused, StaleEdit
from casebank.cases.queries import numbered_version_for
from casebank.core.api.incoming import IDEMPOTENCY
from casebank.core.api.once import once
from casebank.core.api.problems import ProblemError
from casebank.core.http.etag import PreconditionFailedError, require_match
from casebank.domain.workflow import MOVES
from casebank.reviews.actions import LONGEST, add_comment, decide
from casebank.reviews.models import Comment

NAMES = sorted({move.name.removesuffix("-own") for move in MOVES})


class MoveSent(serializers.Serializer[Any]):
    """A move of the workflow; ``return`` needs a comment."""

    name = serializers.ChoiceField(NAMES)
    comment = serializers.CharField(required=False, allow_blank=True, max_length=LONGEST)


class CommentShape(serializers.ModelSerializer[Comment]):
    """A remark; ``path`` empty is the whole document."""

    author = serializers.CharField(source="author.name", read_only=True)

    class Meta:
        model = Comment
        fields = ("path", "text", "author", "created_at")


class MovesView(APIView):
    """Moves of one version."""

    @extend_schema(request=MoveSent, responses=VersionShape, parameters=[IDEMPOTENCY])
    @once
    def post(self, request: Request, case: UUID, number: int) -> Response:
        """Make a move. If-Match, where sent, must name the edit that was read."""
        user: Any = request.user
        version = numbered_version_for(user, case, number)
        sent = MoveSent(data=request.data)
        sent.is_valid(raise_exception=True)
        lock = _lock_read(request, version.lock)
        try:
            moved = decide(version=version, by=user, lock=lock, **sent.validated_data)
        except StaleEdit as error:
            raise PreconditionFailedError from error
        except NotFit as error:
            raise ProblemError(422, "not-fit", str(error), errors=listed(error.problems)) from error
        except (Refused, NoCatalogue) as error:
            raise ProblemError(409, "refused", str(error)) from error
        return version_response(moved)


def _lock_read(request: Request, lock: int) -> int | None:
    if not request.headers.get("If-Match"):
        return None
    require_match(request.headers, lock)
    return lock


class CommentsView(APIView):
    """Comments on one version."""

    @extend_schema(responses=CommentShape(many=True))
    def get(self, request: Request, case: UUID, number: int) -> Response:
        """Oldest first."""
        user: Any = request.user
        version = numbered_version_for(user, case, number)
        comments = version.comments.select_related("author").order_by("pk")
        return Response(CommentShape(comments, many=True).data)

    @extend_schema(request=CommentShape, responses={201: CommentShape}, parameters=[IDEMPOTENCY])
    @once
    def post(self, request: Request, case: UUID, number: int) -> Response:
        """Leave one, as a reviewer of a submitted version."""
        user: Any = request.user
        version = numbered_version_for(user, case, number)
        sent = CommentShape(data=request.data)
        sent.is_valid(raise_exception=True)
        try:
            comment = add_comment(version=version, by=user, **sent.validated_data)
        except Refused as error:
            raise ProblemError(409, "refused", str(error)) from error
        return Response(CommentShape(comment).data, status=status.HTTP_201_CREATED)
