"""The Celery app: what it is told by settings, and the schedule that beat keeps.

The schedule is static and short: a heartbeat, and the sweeper that brings lost jobs back. Work
that is due at a time belongs in rows that a task claims, never in a long ``eta``.
"""

from __future__ import annotations

import os
from typing import Any

from celery import Celery
from celery.signals import beat_init, before_task_publish, worker_process_init
from django.conf import settings

from casebank.core.supervise.orphans import end_with_parent

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "casebank.settings")

HEARTBEAT_SECONDS = settings.CASEBANK_HEARTBEAT_SECONDS
SWEEP_SECONDS = 2 * HEARTBEAT_SECONDS

app = Celery("casebank")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
# A message nobody took in time is worthless, so beat's messages expire before the next one.
app.conf.beat_schedule = {
    "heartbeat": {
        "task": "core.heartbeat",
        "schedule": HEARTBEAT_SECONDS,
        "options": {"expires": HEARTBEAT_SECONDS},
    },
    "sweep-jobs": {
        "task": "core.sweep_jobs",
        "schedule": SWEEP_SECONDS,
        "options": {"expires": SWEEP_SECONDS},
    },
}


@worker_process_init.connect
def _end_with_worker(**_: Any) -> None:
    """A pool process must not outlive its worker: its job will be given to another."""
    end_with_parent()


@beat_init.connect
def _send_at_once(**_: Any) -> None:
    """A new site is not unready for half a minute, nor a lost job lost for a whole one."""
    before_task_publish.connect(_record_beat, weak=False)
    for entry in app.conf.beat_schedule.values():
        app.send_task(entry["task"], **entry["options"])


def _record_beat(sender: str = "", **_: Any) -> None:
    """In beat's own process: every heartbeat it publishes shows that beat itself lives."""
    if sender == "core.heartbeat":
        from django.db import close_old_connections

        from casebank.core.health.actions import record_heartbeat

        close_old_connections()  # beat lives long and has no request or task that would do it
        record_heartbeat(name="beat")
