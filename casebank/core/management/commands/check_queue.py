"""Sends a job through the queue and waits for its result: the whole way, timed."""

from __future__ import annotations

import time
from argparse import ArgumentParser
from typing import Any

from django.core.management import BaseCommand, CommandError

from casebank.core.jobs.actions import enqueue
from casebank.core.jobs.states import JobState
from casebank.core.models import Job


class Command(BaseCommand):
    """``manage.py check_queue [--steps N] [--pause S] [--wait S]``."""

    help = "Send a small job to a worker and wait until it is done."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """How much work, and how long to wait for it."""
        parser.add_argument("--steps", type=int, default=10, help="numbers to add up")
        parser.add_argument("--pause", type=float, default=0.0, help="seconds at each")
        parser.add_argument("--wait", type=float, default=30.0, help="seconds to wait, 0: not")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print how long it took; fail when it does not come back."""
        arguments = {"steps": options["steps"], "pause": options["pause"]}
        began = time.monotonic()
        job = enqueue(kind="check_queue", arguments=arguments, by=None)
        if not options["wait"]:
            self.stdout.write(str(job.pk))
            return
        self._await(job, began + options["wait"])
        self.stdout.write(f"Done in {1000 * (time.monotonic() - began):.0f} ms: {job.result}")

    def _await(self, job: Job, until: float) -> None:
        while not job.is_finished:
            if time.monotonic() > until:
                raise CommandError("No worker finished the job: see /readyz and the worker's log.")
            time.sleep(0.005)
            job.refresh_from_db()
        if job.state != JobState.DONE:
            raise CommandError(f"The job is {job.state}. {job.error}")
