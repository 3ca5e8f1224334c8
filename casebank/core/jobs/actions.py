"""Writes to jobs on behalf of people: enqueue and cancel; running them is ``running.py``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.contrib.auth.base_user import AbstractBaseUser
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.db.models import F
from django.utils import timezone

from casebank.core.jobs.policies import may_cancel
from casebank.core.jobs.registry import function_for
from casebank.core.jobs.states import JobState
from casebank.core.models import Job


def enqueue(
    *, kind: str, arguments: Mapping[str, Any] | None = None, by: AbstractBaseUser | None
) -> Job:
    """Save a job owned by ``by`` (None: the site itself) and send it once the transaction holds.

    ``arguments`` must be JSON. Raises UnknownKindError for a kind nobody registered. A broker
    that is away does not fail the request: the sweeper sends the job later.
    """
    function_for(kind)
    job = Job.objects.create(
        kind=kind, arguments=dict(arguments or {}), owner_id=by.pk if by else None
    )

    def send_it() -> None:
        send(job_id=job.pk)

    transaction.on_commit(send_it, robust=True)
    return job


def send(*, job_id: UUID) -> None:
    """Put the message for a waiting job on the queue; a double message is harmless."""
    from casebank.core.tasks import run_job

    waiting = Job.objects.filter(pk=job_id, state=JobState.QUEUED)
    if waiting.update(sent_at=timezone.now(), sends=F("sends") + 1):
        run_job.delay(str(job_id))


def cancel_job(*, job: Job, by: AbstractBaseUser) -> Job:
    """Cancel a waiting job now; ask a running one to stop at its next progress.

    Raises PermissionDenied with the reason for another's or a finished job.
    """
    with transaction.atomic():
        locked = Job.objects.select_for_update().get(pk=job.pk)
        verdict = may_cancel(by, locked)
        if not verdict:
            raise PermissionDenied(verdict.reason)
        locked.cancel_requested = True
        if locked.state == JobState.QUEUED:
            locked.state, locked.finished_at = JobState.CANCELLED, timezone.now()
        locked.save(update_fields=["cancel_requested", "state", "finished_at"])
    return locked
