"""Reads the audit record."""

from __future__ import annotations

from django.db import models
from django.db.models import QuerySet

from casebank.audit.models import Event


def events_of(subject: models.Model) -> QuerySet[Event]:
    """All events about this object, oldest first."""
    return Event.objects.filter(
        subject_type=subject._meta.label_lower,  # noqa: SLF001
        subject_id=str(subject.pk),
    ).order_by("pk")
