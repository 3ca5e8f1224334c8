"""Writes the audit record, inside the caller's transaction."""

from __future__ import annotations

from typing import Any

from django.db import models

from casebank.audit.models import Event


def record(*, name: str, subject: models.Model, by: Any, **data: Any) -> Event:
    """Append one event. ``by`` is a user, or None for the system itself."""
    return Event.objects.create(
        actor=by,
        actor_label=str(by) if by else "the system",
        name=name,
        subject_type=subject._meta.label_lower,  # noqa: SLF001  Django's public-by-custom API
        subject_id=str(subject.pk),
        subject_label=str(subject)[:200],
        data=data,
    )
