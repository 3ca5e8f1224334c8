"""Works out whether the site can serve, with every reason why not; changes nothing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

from casebank.core.health.signs import last_signs, late_after
from casebank.core.jobs.states import JobState
from casebank.core.models import Job

JOB_WAITS_TOO_LONG = timedelta(minutes=10)


@dataclass(frozen=True)
class Readiness:
    """``reasons`` is empty when ready; the rest are facts, None where they could not be read."""

    reasons: tuple[str, ...]
    beat_seconds: float | None = None
    worker_seconds: float | None = None
    oldest_waiting_seconds: float | None = None

    @property
    def is_ready(self) -> bool:
        """Whether nothing stands against it."""
        return not self.reasons


def readiness(now: datetime | None = None) -> Readiness:
    """Look at the database, the migrations, the heartbeats and the oldest waiting job."""
    now = now or timezone.now()
    try:
        missing = migrations_missing()
        if missing:
            return Readiness((f"{missing} migrations are not applied: run manage.py prepare.",))
        return _of_parts(now)
    except DatabaseError:
        return Readiness(("The database does not answer.",))


def migrations_missing() -> int:
    """How many migrations the database still lacks."""
    executor = MigrationExecutor(connection)
    return len(executor.migration_plan(executor.loader.graph.leaf_nodes()))


def _of_parts(now: datetime) -> Readiness:
    signs = last_signs()
    beat, worker = (_age(signs.get(name), now) for name in ("beat", "worker"))
    waiting = _age(oldest_waiting(), now)
    reasons = [*_heartbeat_reasons(beat, worker)]
    if waiting is not None and waiting > JOB_WAITS_TOO_LONG.total_seconds():
        reasons.append(f"A job has waited {waiting:.0f} s.")
    return Readiness(tuple(reasons), beat, worker, waiting)


def _heartbeat_reasons(beat: float | None, worker: float | None) -> list[str]:
    # Beat drives the worker's heartbeat, so without beat nothing is known of the worker.
    if _is_late(beat):
        return [f"Beat was last seen {_ago(beat)}."]
    return [f"No worker has answered beat; last {_ago(worker)}."] if _is_late(worker) else []


def oldest_waiting() -> datetime | None:
    """When the oldest job still waiting was asked for; None when none waits."""
    waiting = Job.objects.filter(state=JobState.QUEUED).order_by("created_at")
    return waiting.values_list("created_at", flat=True).first()


def _age(at: datetime | None, now: datetime) -> float | None:
    return None if at is None else (now - at).total_seconds()


def _is_late(seconds: float | None) -> bool:
    return seconds is None or seconds > late_after().total_seconds()


def _ago(seconds: float | None) -> str:
    return "never" if seconds is None else f"{seconds:.0f} s ago"
