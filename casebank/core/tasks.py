"""Celery's entry points of core, one line each; and the job by which a site tests its queue."""

from __future__ import annotations

import time
from uuid import UUID

from celery import shared_task

from casebank.core.health.actions import record_heartbeat
from casebank.core.jobs import running, sweeping
from casebank.core.jobs.registry import JobContext, job


@shared_task(name="core.run_job")
def run_job(job_id: str) -> None:
    """Run one job's row; a second delivery finds nothing to do."""
    running.run(UUID(job_id))


@shared_task(name="core.heartbeat")
def heartbeat() -> None:
    """Show that a worker takes messages."""
    record_heartbeat(name="worker")


@shared_task(name="core.sweep_jobs")
def sweep_jobs() -> None:
    """Bring lost jobs back."""
    sweeping.sweep()


@job("check_queue")
def check_queue(context: JobContext) -> dict[str, int]:
    """Add the numbers 1 to ``steps``, pausing ``pause`` seconds at each: proves a queue works."""
    steps, pause = int(context.arguments["steps"]), float(context.arguments["pause"])
    for step in range(1, steps + 1):
        time.sleep(pause)
        context.progress.percent(100 * step / steps, f"Step {step} of {steps}")
    return {"sum": sum(range(1, steps + 1))}
