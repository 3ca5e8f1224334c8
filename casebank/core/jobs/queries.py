"""Reads of jobs for the people who own them."""

from __future__ import annotations

from uuid import UUID

from django.contrib.auth.base_user import AbstractBaseUser
from django.db.models import QuerySet
from django.shortcuts import get_object_or_404

from casebank.core.models import Job


def jobs_of(user: AbstractBaseUser) -> QuerySet[Job]:
    """The jobs this person may see, newest first."""
    return Job.objects.filter(owner_id=user.pk).order_by("-created_at", "pk")


def job_for(user: AbstractBaseUser, job_id: UUID) -> Job:
    """One of this person's jobs; Http404 for another's and for none alike."""
    return get_object_or_404(jobs_of(user), pk=job_id)
