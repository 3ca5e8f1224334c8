"""How a running job tells how far it is and learns that it should stop."""

from __future__ import annotations

from uuid import UUID

from django.utils import timezone

from casebank.core.jobs.errors import JobCancelledError, JobLostError
from casebank.core.jobs.states import JobState
from casebank.core.models import Job

LONGEST_MESSAGE = 200


class Progress:
    """The progress of one run of one job; call it outside of transactions so that it is seen."""

    def __init__(self, job_id: UUID, attempt: int) -> None:
        self._ours = Job.objects.filter(pk=job_id, state=JobState.RUNNING, attempts=attempt)

    def percent(self, done: float, message: str = "") -> None:
        """Record ``done`` (0 to 100) and what is being done.

        Raises JobCancelledError when the owner asked to stop and JobLostError when this run is no
        longer the job's; both are to be let through.
        """
        if not 0 <= done <= 100:
            raise ValueError(f"Progress is from 0 to 100, not {done}.")
        alive = self._ours.filter(cancel_requested=False).update(
            percent=int(done), message=message[:LONGEST_MESSAGE], heartbeat_at=timezone.now()
        )
        if not alive:
            raise JobCancelledError if self._ours.exists() else JobLostError

    def is_cancel_requested(self) -> bool:
        """Whether the owner asked to stop, for loops that want to tidy up first."""
        return self._ours.filter(cancel_requested=True).exists()

    def beat(self) -> None:
        """Show that the run lives, without progress."""
        self._ours.update(heartbeat_at=timezone.now())
