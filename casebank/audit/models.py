"""The append-only record of what people did; the database refuses changes to it."""

from __future__ import annotations

import pgtrigger
from django.conf import settings
from django.db import models


class Event(models.Model):
    """One thing a person did, in the past tense, with copied labels so that it stays readable."""

    at = models.DateTimeField(auto_now_add=True, db_index=True)
    actor = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.DO_NOTHING, db_constraint=False
    )
    actor_label = models.CharField(max_length=120)
    name = models.CharField(max_length=60)
    subject_type = models.CharField(max_length=60)
    subject_id = models.CharField(max_length=64)
    subject_label = models.CharField(max_length=200)
    data = models.JSONField(default=dict)

    class Meta:
        indexes = [models.Index(fields=["subject_type", "subject_id"], name="event_subject")]
        triggers = [
            pgtrigger.Protect(
                name="event_append_only", operation=pgtrigger.Update | pgtrigger.Delete
            )
        ]

    def __str__(self) -> str:
        return f"{self.actor_label} {self.name} {self.subject_label}"
