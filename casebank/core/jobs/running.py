"""Claims a job, runs its function and records what came of it.

Messages arrive at least once: only the run that moves the row from queued to running works, and
only while the row still carries its attempt number does it write.
"""

from __future__ import annotations

import logging
from typing import Any
from uuid import UUID

from billiard.exceptions import SoftTimeLimitExceeded
from django.db import transaction
from django.utils import timezone

from casebank.core.jobs.errors import (
    JobCancelledError,
    JobFailedError,
    JobLostError,
    UnknownKindError,
)
from casebank.core.jobs.progress import Progress
from casebank.core.jobs.pulse import Pulse
from casebank.core.jobs.registry import JobContext, function_for
from casebank.core.jobs.states import JobState
from casebank.core.models import Job

logger = logging.getLogger(__name__)


def run(job_id: UUID) -> bool:
    """Run the job if it waits; False when there was nothing to do (done, taken, cancelled)."""
    claimed = claim(job_id)
    if claimed is None:
        return False
    context = _context_of(claimed)
    try:
        with Pulse(context.progress):
            outcome = _outcome_of(claimed, context)
    except JobLostError:
        logger.warning("Job %s was taken over by another run.", job_id)
        return False
    return _finish(claimed, **outcome)


def claim(job_id: UUID) -> Job | None:
    """Move a waiting job to running as its next attempt; None if it does not wait any more."""
    now = timezone.now()
    with transaction.atomic():
        waiting = Job.objects.select_for_update(skip_locked=True)
        job = waiting.filter(pk=job_id, state=JobState.QUEUED).first()
        if job is None:
            return None
        job.state, job.attempts, job.heartbeat_at = JobState.RUNNING, job.attempts + 1, now
        job.started_at = job.started_at or now
        job.save(update_fields=["state", "attempts", "heartbeat_at", "started_at"])
    return job


def _context_of(job: Job) -> JobContext:
    return JobContext(
        job_id=job.pk,
        owner_id=job.owner_id,
        arguments=job.arguments,
        attempt=job.attempts,
        progress=Progress(job.pk, job.attempts),
    )


def _outcome_of(job: Job, context: JobContext) -> dict[str, Any]:
    try:
        result = function_for(job.kind)(context)
    except JobLostError:
        raise
    except JobCancelledError:
        return {"state": JobState.CANCELLED}
    except (JobFailedError, UnknownKindError) as error:
        return _failure(str(error))
    except SoftTimeLimitExceeded:
        return _failure("This took longer than a job may take. Ask for less at once.")
    except Exception:
        logger.exception("Job %s (%s) failed.", job.pk, job.kind)
        return _failure(f"Something went wrong. Try again, or report the job {job.pk}.")
    return {"state": JobState.DONE, "result": result, "percent": 100}


def _failure(sentence: str) -> dict[str, Any]:
    return {"state": JobState.FAILED, "error": sentence}


def _finish(job: Job, **changes: Any) -> bool:
    ours = Job.objects.filter(pk=job.pk, state=JobState.RUNNING, attempts=job.attempts)
    return bool(ours.update(finished_at=timezone.now(), **changes))
