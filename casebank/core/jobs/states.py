"""The states of a job and the moves between them, as tables; imports no model."""

from __future__ import annotations

from django.db import models


class JobState(models.TextChoices):
    """Where a job stands."""

    QUEUED = "queued", "Waiting"
    RUNNING = "running", "Running"
    DONE = "done", "Done"
    FAILED = "failed", "Failed"
    CANCELLED = "cancelled", "Cancelled"


S = JobState
# A running job returns to the queue when its worker was lost.
TRANSITIONS: tuple[tuple[str, str], ...] = (
    (S.QUEUED.value, S.RUNNING.value),
    (S.QUEUED.value, S.CANCELLED.value),
    (S.QUEUED.value, S.FAILED.value),
    (S.RUNNING.value, S.DONE.value),
    (S.RUNNING.value, S.FAILED.value),
    (S.RUNNING.value, S.CANCELLED.value),
    (S.RUNNING.value, S.QUEUED.value),
)
OPEN = (S.QUEUED.value, S.RUNNING.value)
FINAL = (S.DONE.value, S.FAILED.value, S.CANCELLED.value)
