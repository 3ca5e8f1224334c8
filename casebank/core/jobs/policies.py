"""Who may see and cancel a job: its owner."""

from __future__ import annotations

from django.contrib.auth.base_user import AbstractBaseUser

from casebank.core.models import Job
from casebank.domain.verdict import ALLOWED, Verdict, refused


def may_see(user: AbstractBaseUser, job: Job) -> Verdict:
    """Only the owner knows of a job."""
    return ALLOWED if job.owner_id == user.pk else refused("This job belongs to someone else.")


def may_cancel(user: AbstractBaseUser, job: Job) -> Verdict:
    """The owner, while the job is not finished."""
    if not may_see(user, job):
        return may_see(user, job)
    return refused("This job has already finished.") if job.is_finished else ALLOWED
