"""Rehearsals: asked for by an author, run by a job; never an encounter of anybody."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models

from casebank.cases.models import CaseVersion, CatalogueRelease
from casebank.core.jobs.states import JobState


class Rehearsal(models.Model):
    """A run of simulated learners through a version as it stood; the job fills ``result``, once.

    ``document`` is a copy: the draft may change while the job runs. ``checksum`` is the copy's,
    so that the same document is not rehearsed twice.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    version = models.ForeignKey(CaseVersion, on_delete=models.CASCADE, related_name="rehearsals")
    catalogue = models.ForeignKey(CatalogueRelease, on_delete=models.PROTECT)
    document = models.JSONField()
    checksum = models.CharField(max_length=64)
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)
    asked_at = models.DateTimeField(auto_now_add=True)
    job = models.OneToOneField("core.Job", null=True, on_delete=models.SET_NULL)
    result = models.JSONField(null=True)
    finished_at = models.DateTimeField(null=True)

    class Meta:
        indexes = [models.Index(fields=["version", "-asked_at"], name="rehearsal_by_version")]

    def __str__(self) -> str:
        return f"rehearsal of {self.version_id}"

    @property
    def is_over_without_result(self) -> bool:
        """Whether nothing will come of it: its job failed, was cancelled, or is gone."""
        if self.result is not None:
            return False
        return self.job is None or self.job.state in (JobState.FAILED, JobState.CANCELLED)
