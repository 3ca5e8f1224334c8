"""Cohort reports: asked for by a person, compiled by a job."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models

from accounts.models import Cohort


class CohortReport(models.Model):
    """A request for figures on a cohort; ``result`` is filled by the job, once."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    cohort = models.ForeignKey(Cohort, on_delete=models.PROTECT)
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)
    asked_at = models.DateTimeField(auto_now_add=True)
    job = models.OneToOneField("core.Job", null=True, on_delete=models.SET_NULL)
    cutoff = models.DateTimeField(help_text="Encounters concluded up to here are counted.")
    result = models.JSONField(null=True)
    compiled_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"report on {self.cohort}"
