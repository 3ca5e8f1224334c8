"""Reads cases for pages and the API; every door answers 404 for what the person may not see."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.db.models import OuterRef, QuerySet, Subquery
from django.http import Http404

from accounts.models import User
from casebank.audit.models import Event
from casebank.audit.queries import events_of
from casebank.cases.errors import NoCatalogue
from casebank.cases.library import catalogue_of, current_release
from casebank.cases.models import Case, CaseVersion, CatalogueRelease
from casebank.cases.policies import own_versions, visible_versions
from casebank.domain.casefile.check import CaseReview, check_case
from casebank.domain.examination.model import Catalogue
from casebank.domain.workflow import CaseState


def own_version_for(user: User, pk: UUID) -> CaseVersion:
    """The version, or Http404 unless this person writes it."""
    return _only(own_versions(user).filter(pk=pk))


def numbered_version_for(user: User, case: UUID, number: int) -> CaseVersion:
    """The version of that number, or Http404 where this person may not see it."""
    return _only(visible_versions(user).filter(case=case, number=number))


def numbered_own_version_for(user: User, case: UUID, number: int) -> CaseVersion:
    """The version of that number, or Http404 unless this person writes it."""
    return _only(own_versions(user).filter(case=case, number=number))


def own_case_for(user: User, pk: UUID) -> Case:
    """The case, or Http404 unless this person writes it."""
    found = Case.objects.filter(pk=pk, author=user).first()
    if found is None:
        raise Http404
    return found


def _only(versions: QuerySet[CaseVersion]) -> CaseVersion:
    found = versions.select_related("author", "case").first()
    if found is None:
        raise Http404
    return found


def newest_versions_of(user: User) -> QuerySet[CaseVersion]:
    """The newest version of each case this person writes, last edited first, document left out.

    ``published_number`` is the number of the version students have now, or None.
    """
    published = CaseVersion.objects.filter(case=OuterRef("case"), state=CaseState.PUBLISHED)
    newest = own_versions(user).order_by("case", "-number").distinct("case").values("pk")
    return (
        CaseVersion.objects.filter(pk__in=newest)
        .annotate(published_number=Subquery(published.values("number")[:1]))
        .defer("document")
        .order_by("-edited_at")
    )


def other_versions_of(version: CaseVersion) -> list[CaseVersion]:
    """The other versions of the same case by the same author, newest first."""
    others = version.case.versions.exclude(pk=version.pk).filter(author=version.author_id)
    return list(others.defer("document").order_by("-number"))


def catalogue_for(version: CaseVersion) -> Catalogue:
    """The catalogue the version is read with: the pinned one, or the newest. Raises NoCatalogue."""
    return catalogue_of(version.catalogue_id) if version.catalogue_id else newest_catalogue()


def newest_catalogue() -> Catalogue:
    """The catalogue drafts are written with. Raises NoCatalogue before one is loaded."""
    try:
        return catalogue_of(current_release().pk)
    except CatalogueRelease.DoesNotExist:
        raise NoCatalogue from None


def review_of(version: CaseVersion) -> CaseReview:
    """The case check of the version as it stands."""
    return check_case(version.document, catalogue_for(version))


def comments_on(version: CaseVersion) -> QuerySet[Any]:
    """The review comments, oldest first, each with its author."""
    return version.comments.select_related("author").order_by("pk")


def rehearsals_of(version: CaseVersion) -> QuerySet[Any]:
    """The rehearsals of the version, newest first, each with its job."""
    return (
        version.rehearsals.select_related("job").defer("document", "result").order_by("-asked_at")
    )


def history_of(version: CaseVersion) -> QuerySet[Event]:
    """What happened to the version, oldest first, without saves and single comments."""
    return events_of(version).exclude(name__in=["case_edited", "comment_added"])
