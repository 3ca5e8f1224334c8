"""Moves a version along its way: one locked row, the stamps of the move, and its event."""

from __future__ import annotations

from collections.abc import Callable

from django.db import transaction
from django.utils import timezone

from accounts.models import User
from casebank.audit.actions import record
from casebank.cases.errors import NoCatalogue, NotFit, Refused, StaleEdit
from casebank.cases.library import catalogue_of, current_release
from casebank.cases.models import Case, CaseVersion, CatalogueRelease
from casebank.cases.policies import may_move, move_named
from casebank.domain.casefile.canonical import checksum
from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.workflow import CaseState, Move


@transaction.atomic
def move(
    *, version: CaseVersion, name: str, by: User, comment: str = "", lock: int | None = None
) -> CaseVersion:
    """Make one move of the workflow.

    ``lock``, where given, is the count of edits the person has read; StaleEdit when it moved on.
    Raises Refused where the policy says no, NotFit where the case check finds errors.
    """
    Case.objects.select_for_update().get(pk=version.case_id)
    locked = CaseVersion.objects.select_for_update().get(pk=version.pk)
    wanted = _allowed_move(locked, name, by)
    if lock is not None and locked.lock != lock:
        raise StaleEdit(locked, None)
    if wanted.name == "return" and not comment.strip():
        raise Refused("Say what to change: a comment is needed to return a case.")
    STAMPS[wanted.target](locked, by)
    return _moved(locked, wanted, by, comment)


def _allowed_move(version: CaseVersion, name: str, by: User) -> Move:
    verdict = may_move(by, version, name)
    wanted = move_named(by, version, name)
    if not verdict or wanted is None:
        raise Refused(verdict.reason)
    return wanted


def _moved(version: CaseVersion, wanted: Move, by: User, comment: str) -> CaseVersion:
    version.state = wanted.target.value
    version.lock += 1
    version.save()
    data = {"comment": comment.strip()} if comment.strip() else {}
    record(name=wanted.event, subject=version, by=by, number=version.number, **data)
    return version


def _submit(version: CaseVersion, by: User) -> None:
    _fit_document(version, _current_release())
    version.submitted_at = timezone.now()


def _approve(version: CaseVersion, by: User) -> None:
    release = _current_release()
    version.checksum = checksum(_fit_document(version, release))
    version.catalogue = release
    version.approved_at, version.approved_by = timezone.now(), by


def _publish(version: CaseVersion, by: User) -> None:
    """Stamp the publication; the version students had until now is retired with it."""
    for old in version.case.versions.select_for_update().filter(state=CaseState.PUBLISHED):
        _retire(old, by)
        old.state = CaseState.RETIRED.value
        old.lock += 1
        old.save()
        record(
            name="case_retired", subject=old, by=by,
            number=old.number, replaced_by=version.number,
        )  # fmt: skip
    version.published_at, version.published_by = timezone.now(), by


def _retire(version: CaseVersion, by: User) -> None:
    version.retired_at = timezone.now()


def _nothing(version: CaseVersion, by: User) -> None:
    """Return and revise leave no stamp of their own; the event has time and person."""


STAMPS: dict[CaseState, Callable[[CaseVersion, User], None]] = {
    CaseState.DRAFT: _nothing,
    CaseState.SUBMITTED: _submit,
    CaseState.RETURNED: _nothing,
    CaseState.APPROVED: _approve,
    CaseState.PUBLISHED: _publish,
    CaseState.RETIRED: _retire,
}


def _fit_document(version: CaseVersion, release: CatalogueRelease) -> CaseDocument:
    review = check_case(version.document, catalogue_of(release.pk))
    if review.document is None or not review.is_fit:
        raise NotFit(review.errors)
    return review.document


def _current_release() -> CatalogueRelease:
    try:
        return current_release()
    except CatalogueRelease.DoesNotExist:
        raise NoCatalogue from None
