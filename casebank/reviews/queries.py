"""Reads what awaits review and what reviewers may look up again."""

from __future__ import annotations

from uuid import UUID

from django.db.models import Count, QuerySet
from django.http import Http404

from accounts.models import User
from casebank.audit.models import Event
from casebank.audit.queries import events_of
from casebank.cases.models import CaseVersion
from casebank.cases.policies import reviewable_versions
from casebank.domain.workflow import CaseState


def awaiting_review(user: User) -> QuerySet[CaseVersion]:
    """Submitted versions of others, the longest wait first."""
    return _listed(user).filter(state=CaseState.SUBMITTED).order_by("submitted_at", "pk")


def reviewed_before(user: User) -> QuerySet[CaseVersion]:
    """Versions of others past their submission, last moved first."""
    return _listed(user).exclude(state=CaseState.SUBMITTED).order_by("-edited_at")


def _listed(user: User) -> QuerySet[CaseVersion]:
    versions = reviewable_versions(user).select_related("author").defer("document")
    return versions.annotate(remarks=Count("comments"))


def reviewable_version_for(user: User, pk: UUID) -> CaseVersion:
    """The version, or Http404 unless this person may read it as a reviewer."""
    found = reviewable_versions(user).select_related("author").filter(pk=pk).first()
    if found is None:
        raise Http404
    return found


def history_for_reviewers(version: CaseVersion) -> QuerySet[Event]:
    """What happened to the version, without saves and single comments."""
    return events_of(version).exclude(name__in=["case_edited", "comment_added"])
