"""Brings lost jobs back: messages never taken and runs whose worker died.

A killed worker's message returns only after the broker's visibility timeout, which must be longer
than the longest job; the row's heartbeat tells much sooner. Claims make double messages harmless.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.conf import settings
from django.db import transaction
from django.db.models import Q, QuerySet
from django.utils import timezone

from casebank.core.jobs.actions import send
from casebank.core.jobs.states import JobState
from casebank.core.models import Job

MOST_ATTEMPTS = 5
WAIT_BEFORE_RESENDING = timedelta(minutes=1)
LONGEST_DOUBLING = 6
BATCH = 500


@dataclass(frozen=True)
class Swept:
    """How many jobs one sweep returned to the queue, gave up, cancelled, and sent again."""

    requeued: int
    given_up: int
    cancelled: int
    resent: int


def sweep(now: datetime | None = None) -> Swept:
    """Return, end or resend every lost job; safe to run at any time and more than once."""
    now = now or timezone.now()
    cut = now - timedelta(seconds=settings.CASEBANK_JOB_LOST_SECONDS)
    lost = Job.objects.filter(Q(heartbeat_at__lt=cut) | Q(heartbeat_at=None))
    requeued, given_up, cancelled = _bring_back(lost, now)
    return Swept(requeued, given_up, cancelled, _resend(now))


def requeue_all_running() -> int:
    """Return every running job to the queue: only for a site known to have no worker running."""
    return _bring_back(Job.objects.all(), timezone.now())[0]


def _bring_back(jobs: QuerySet[Job], now: datetime) -> tuple[int, int, int]:
    with transaction.atomic():
        running = jobs.filter(state=JobState.RUNNING).select_for_update(skip_locked=True)
        lost = Job.objects.filter(pk__in=[job.pk for job in running[:BATCH]])
        cancelled = lost.filter(cancel_requested=True).update(
            state=JobState.CANCELLED, finished_at=now
        )
        given_up = lost.filter(state=JobState.RUNNING, attempts__gte=MOST_ATTEMPTS).update(
            state=JobState.FAILED,
            finished_at=now,
            error=f"Its worker stopped {MOST_ATTEMPTS} times. Report this job.",
        )
        requeued = lost.filter(state=JobState.RUNNING).update(
            state=JobState.QUEUED, heartbeat_at=None, sent_at=None, sends=0
        )
    return requeued, given_up, cancelled


def _resend(now: datetime) -> int:
    waiting = Job.objects.filter(state=JobState.QUEUED).order_by("created_at")[:BATCH]
    overdue = [job for job in waiting if _is_overdue(job, now)]
    for job in overdue:
        send(job_id=job.pk)
    return len(overdue)


def _is_overdue(job: Job, now: datetime) -> bool:
    """Whether the message seems lost; the wait doubles, so a long queue is not flooded."""
    if job.sent_at is None:
        return bool(job.attempts > 0 or job.created_at < now - WAIT_BEFORE_RESENDING)
    doublings = max(0, min(job.sends - 1, LONGEST_DOUBLING))
    return bool(job.sent_at < now - WAIT_BEFORE_RESENDING * 2**doublings)
