"""Stored technical facts: jobs, heartbeats and kept answers; what a job does is its slice's."""

from __future__ import annotations

import uuid

import pgtrigger
from django.conf import settings
from django.db import models
from django.db.models import Q

from casebank.core.jobs.states import FINAL, OPEN, TRANSITIONS, JobState


class Job(models.Model):
    """One piece of background work, what it was asked, how far it is, what came of it.

    ``attempts`` also fences: a run writes only while the row still carries its own number.
    ``sent_at`` and ``sends`` say when and how often the message went out.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.CASCADE, related_name="+"
    )
    kind = models.CharField(max_length=60)
    arguments = models.JSONField(default=dict)
    state = models.CharField(max_length=10, choices=JobState, default=JobState.QUEUED)
    percent = models.PositiveSmallIntegerField(default=0)
    message = models.CharField(max_length=200, blank=True)
    result = models.JSONField(null=True)
    error = models.TextField(blank=True)
    cancel_requested = models.BooleanField(default=False)
    attempts = models.PositiveSmallIntegerField(default=0)
    sends = models.PositiveSmallIntegerField(default=0)
    created_at = models.DateTimeField(auto_now_add=True)
    sent_at = models.DateTimeField(null=True)
    started_at = models.DateTimeField(null=True)
    heartbeat_at = models.DateTimeField(null=True)
    finished_at = models.DateTimeField(null=True)

    class Meta:
        indexes = [
            models.Index(fields=["owner", "-created_at"], name="job_by_owner"),
            models.Index(
                fields=["state", "created_at"], condition=Q(state__in=OPEN), name="job_open"
            ),
        ]
        constraints = [
            models.CheckConstraint(condition=Q(percent__lte=100), name="job_percent_to_100"),
            models.CheckConstraint(
                condition=Q(state__in=JobState.values), name="job_state_is_known"
            ),
            models.CheckConstraint(
                condition=Q(state__in=FINAL, finished_at__isnull=False)
                | Q(state__in=OPEN, finished_at__isnull=True),
                name="job_finished_when_final",
            ),
        ]
        triggers = [
            pgtrigger.FSM(name="job_moves", field="state", transitions=list(TRANSITIONS)),
        ]

    def __str__(self) -> str:
        return f"{self.kind} ({self.state})"

    @property
    def is_finished(self) -> bool:
        """Whether nothing will change any more."""
        return self.state in FINAL


class Heartbeat(models.Model):
    """When a part of the site last showed that it lives: ``beat``, ``worker``."""

    name = models.CharField(primary_key=True, max_length=40)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.name} at {self.at}"


class KeptAnswer(models.Model):
    """The answer a person got to a request with an idempotency key; never changed.

    ``key`` is the digest of address and key, ``content`` that of the body it came with.
    """

    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+"
    )  # fmt: skip
    key = models.CharField(max_length=64)
    content = models.CharField(max_length=64)
    status = models.PositiveSmallIntegerField()
    headers = models.JSONField(default=dict)
    body = models.TextField()
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["person", "key"], name="one_answer_a_key"),
        ]
        triggers = [pgtrigger.Protect(name="kept_answer_fixed", operation=pgtrigger.Update)]

    def __str__(self) -> str:
        return f"answer {self.status}"
