"""Writes rehearsals: asking for one, and storing what the job found."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from accounts.models import User
from casebank.audit.actions import record
from casebank.cases.errors import NoCatalogue, NotFit, Refused
from casebank.cases.library import catalogue_of, current_release
from casebank.cases.models import CaseVersion, CatalogueRelease
from casebank.cases.policies import may_rehearse
from casebank.core.jobs.actions import enqueue
from casebank.domain.casefile.canonical import checksum
from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.rehearsals.models import Rehearsal

KIND = "rehearsal"


@transaction.atomic
def rehearse(*, version: CaseVersion, by: User) -> Rehearsal:
    """Ask for a rehearsal of the version as it stands; a job runs the simulated learners.

    The same document is rehearsed once: asking again gives the rehearsal there is, unless it
    failed or was cancelled. Raises Refused where the policy says no, NotFit where the case check
    finds errors, NoCatalogue without a catalogue.
    """
    locked = CaseVersion.objects.select_for_update().get(pk=version.pk)
    verdict = may_rehearse(by, locked)
    if not verdict:
        raise Refused(verdict.reason)
    release = _release_of(locked)
    document = _fit_document(locked, release)
    sum_ = checksum(document)
    return _standing(locked, release, sum_) or _begin(locked, release, sum_, by)


def _release_of(version: CaseVersion) -> CatalogueRelease:
    if version.catalogue is not None:
        return version.catalogue
    try:
        return current_release()
    except CatalogueRelease.DoesNotExist:
        raise NoCatalogue from None


def _fit_document(version: CaseVersion, release: CatalogueRelease) -> CaseDocument:
    review = check_case(version.document, catalogue_of(release.pk))
    if review.document is None or not review.is_fit:
        raise NotFit(review.errors)
    return review.document


def _standing(version: CaseVersion, release: CatalogueRelease, sum_: str) -> Rehearsal | None:
    """The newest rehearsal of this document, unless nothing will come of it."""
    same = version.rehearsals.filter(checksum=sum_, catalogue=release).select_related("job")
    newest: Rehearsal | None = same.order_by("-asked_at").first()
    return None if newest is None or newest.is_over_without_result else newest


def _begin(version: CaseVersion, release: CatalogueRelease, sum_: str, by: User) -> Rehearsal:
    made = Rehearsal(
        version=version,
        catalogue=release,
        document=version.document,
        checksum=sum_,
        asked_by=by,
    )
    made.job = enqueue(kind=KIND, arguments={"rehearsal": str(made.pk)}, by=by)
    made.save()
    record(name="rehearsal_asked_for", subject=made, by=by, version=str(version.pk))
    return made


def store_result(*, rehearsal_id: UUID, result: dict[str, Any]) -> None:
    """Store what the job found, once; a second run of the job changes nothing."""
    waiting = Rehearsal.objects.filter(pk=rehearsal_id, result__isnull=True)
    waiting.update(result=result, finished_at=timezone.now())
