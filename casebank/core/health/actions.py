"""Records that a part of the site lives."""

from __future__ import annotations

import logging

from django.db import DatabaseError
from django.utils import timezone

from casebank.core.models import Heartbeat

logger = logging.getLogger(__name__)


def record_heartbeat(*, name: str) -> None:
    """Note that ``name`` lives now; a database that is away is logged, never raised."""
    try:
        Heartbeat.objects.update_or_create(name=name, defaults={"at": timezone.now()})
    except DatabaseError:
        logger.warning("The heartbeat of %s could not be written.", name)
