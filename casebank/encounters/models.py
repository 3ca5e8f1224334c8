"""Encounters, their append-only log, and the marks computed from it."""

from __future__ import annotations

import uuid

import pgtrigger
from django.conf import settings
from django.db import models
from django.db.models import Q

from casebank.cases.models import CaseVersion


class Encounter(models.Model):
    """One student with one case version.

    ``live`` caches what replaying the log gives, so that a request need not replay it; tests hold
    the two equal. ``last_seq`` is the log position that pages poll with.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    student = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)
    version = models.ForeignKey(CaseVersion, on_delete=models.PROTECT)
    cued = models.BooleanField(default=True)
    live = models.JSONField()
    last_seq = models.PositiveIntegerField(default=0)
    minutes = models.FloatField(default=0)
    surcharge = models.FloatField(default=0)
    started_at = models.DateTimeField(auto_now_add=True)
    concluded_at = models.DateTimeField(null=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["student", "version"],
                condition=Q(concluded_at=None),
                name="one_open_encounter_a_case",
            )
        ]
        indexes = [models.Index(fields=["version", "concluded_at"], name="encounter_by_version")]

    def __str__(self) -> str:
        return f"encounter {self.pk}"


class Entry(models.Model):
    """One line of the log; the database refuses to change or delete it."""

    encounter = models.ForeignKey(Encounter, on_delete=models.PROTECT, related_name="entries")
    seq = models.PositiveIntegerField()
    kind = models.CharField(max_length=20)
    at = models.DateTimeField(auto_now_add=True)
    key = models.CharField(max_length=64, blank=True)
    payload = models.JSONField()

    class Meta:
        ordering = ["seq"]
        constraints = [
            models.UniqueConstraint(fields=["encounter", "seq"], name="entry_seq_unique"),
            models.UniqueConstraint(
                fields=["encounter", "key"], condition=~Q(key=""), name="entry_key_unique"
            ),
        ]
        triggers = [
            pgtrigger.Protect(
                name="entry_append_only", operation=pgtrigger.Update | pgtrigger.Delete
            )
        ]

    def __str__(self) -> str:
        return f"{self.seq} {self.kind}"


class Mark(models.Model):
    """Marks of a concluded encounter under one marking version; computed once, kept for ever."""

    encounter = models.ForeignKey(Encounter, on_delete=models.PROTECT, related_name="marks")
    marking_version = models.PositiveIntegerField()
    total = models.FloatField()
    result = models.JSONField()
    computed_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["encounter", "marking_version"], name="one_mark_a_marking_version"
            )
        ]
        triggers = [
            pgtrigger.Protect(name="mark_fixed", operation=pgtrigger.Update | pgtrigger.Delete)
        ]

    def __str__(self) -> str:
        return f"{self.total:.0f} by marking {self.marking_version}"


class DebriefComment(models.Model):
    """What a tutor says about a concluded encounter, or about one entry of it; kept for ever."""

    encounter = models.ForeignKey(Encounter, on_delete=models.PROTECT, related_name="comments")
    entry_seq = models.PositiveIntegerField(null=True)
    text = models.CharField(max_length=2000)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    key = models.CharField(max_length=64, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["encounter", "key"], condition=~Q(key=""), name="comment_key_unique"
            )
        ]
        triggers = [
            pgtrigger.Protect(
                name="comment_append_only", operation=pgtrigger.Update | pgtrigger.Delete
            )
        ]

    def __str__(self) -> str:
        return f"comment on {self.encounter_id}"


class MarkAdjustment(models.Model):
    """A tutor's total beside a computed mark, with its reason; the newest one stands.

    The computed mark is never changed: ``mark`` is the one it stands beside.
    """

    encounter = models.ForeignKey(Encounter, on_delete=models.PROTECT, related_name="adjustments")
    mark = models.ForeignKey(Mark, on_delete=models.PROTECT, related_name="+")
    total = models.FloatField()
    reason = models.CharField(max_length=1000)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    key = models.CharField(max_length=64, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(total__gte=0) & Q(total__lte=100), name="adjusted_total_0_to_100"
            ),
            models.CheckConstraint(condition=~Q(reason=""), name="adjustment_has_a_reason"),
            models.UniqueConstraint(
                fields=["encounter", "key"], condition=~Q(key=""), name="adjustment_key_unique"
            ),
        ]
        triggers = [
            pgtrigger.Protect(
                name="adjustment_append_only", operation=pgtrigger.Update | pgtrigger.Delete
            )
        ]

    def __str__(self) -> str:
        return f"{self.total:.0f} beside {self.mark_id}"
