"""When worker and beat last showed life, and from when on they are late; judges nothing else."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.conf import settings
from django.db.models import Max

from casebank.core.jobs.pulse import SECONDS as PULSE_SECONDS
from casebank.core.jobs.states import JobState
from casebank.core.models import Heartbeat, Job

BEATS_MISSED = 4


def last_signs() -> dict[str, datetime]:
    """The last sign of life of each part, ``beat`` and ``worker``; one never seen is missing.

    A worker whose processes are all busy answers no heartbeat until one is free, so the pulse of
    a running job counts as the worker's: a process of the worker writes it from a thread.
    """
    signs = dict(Heartbeat.objects.values_list("name", "at"))
    running = Job.objects.filter(state=JobState.RUNNING)
    pulse = running.aggregate(newest=Max("heartbeat_at"))["newest"]
    if pulse is not None:
        signs["worker"] = max(pulse, signs.get("worker", pulse))
    return signs


def late_after() -> timedelta:
    """How long a part may be silent: four heartbeats (120 s by default), at least two pulses."""
    heartbeats = BEATS_MISSED * settings.CASEBANK_HEARTBEAT_SECONDS
    return timedelta(seconds=max(heartbeats, 2 * PULSE_SECONDS))
