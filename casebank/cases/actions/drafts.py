"""Begins cases and versions and saves drafts; an edit on a stale lock changes nothing."""

from __future__ import annotations

from django.db import IntegrityError, transaction

from accounts.models import User
from casebank.audit.actions import record
from casebank.cases.documents import Document, must_fit_a_draft, title_of
from casebank.cases.errors import Refused, StaleEdit
from casebank.cases.models import Case, CaseVersion
from casebank.cases.policies import may_edit, may_start_version, may_write
from casebank.domain.verdict import Verdict
from casebank.domain.workflow import CaseState


def must(verdict: Verdict) -> None:
    """Raise Refused with the verdict's reason unless it allows."""
    if not verdict:
        raise Refused(verdict.reason)


@transaction.atomic
def create_case(*, document: Document, by: User) -> CaseVersion:
    """A new case whose first draft is this document, incomplete or not."""
    must(may_write(by))
    must_fit_a_draft(document)
    version = CaseVersion.objects.create(
        case=Case.objects.create(author=by),
        number=1,
        author=by,
        title=title_of(document),
        document=document,
    )
    record(name="case_created", subject=version, by=by)
    return version


@transaction.atomic
def save_draft(*, version: CaseVersion, document: Document, lock: int, by: User) -> CaseVersion:
    """Replace the draft's document; ``lock`` is the count of edits the person started from.

    Raises StaleEdit, with what stands and what was to be saved, when someone saved meanwhile.
    """
    must_fit_a_draft(document)
    before = CaseVersion.objects.select_for_update().get(pk=version.pk)
    must(may_edit(by, before))
    if before.lock != lock:
        raise StaleEdit(before, document)
    return _store(before, document, by) if before.document != document else before


def _store(version: CaseVersion, document: Document, by: User) -> CaseVersion:
    changed = sorted(_changed_parts(version.document, document))
    version.document, version.title = document, title_of(document)
    version.lock += 1
    version.save(update_fields=["document", "title", "lock", "edited_at"])
    record(name="case_edited", subject=version, by=by, parts=changed, lock=version.lock)
    return version


def _changed_parts(old: Document, new: Document) -> set[str]:
    return {name for name in old.keys() | new.keys() if old.get(name) != new.get(name)}


def start_new_version(*, case: Case, by: User) -> CaseVersion:
    """The next version, as a draft holding the published document."""
    try:
        return _start(case, by)
    except IntegrityError as error:
        raise Refused("A version of this case is open already. Finish that one first.") from error


@transaction.atomic
def _start(case: Case, by: User) -> CaseVersion:
    locked = Case.objects.select_for_update().get(pk=case.pk)
    must(may_start_version(by, locked))
    published = locked.versions.get(state=CaseState.PUBLISHED)
    newest = locked.versions.order_by("-number")[0]
    version = CaseVersion.objects.create(
        case=locked,
        number=newest.number + 1,
        author=by,
        title=published.title,
        document=published.document,
    )
    record(name="version_started", subject=version, by=by, from_version=published.number)
    return version
