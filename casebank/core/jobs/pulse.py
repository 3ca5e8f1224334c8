"""Keeps a running job's heartbeat fresh from a thread, however long one calculation takes."""

from __future__ import annotations

import logging
import threading
from types import TracebackType

from django.db import DatabaseError, connection

from casebank.core.jobs.progress import Progress

logger = logging.getLogger(__name__)
SECONDS = 10.0


class Pulse:
    """A context manager: inside it the job's ``heartbeat_at`` is renewed every ``SECONDS``."""

    def __init__(self, progress: Progress, *, seconds: float = SECONDS) -> None:
        self._progress, self._seconds = progress, seconds
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._run, name="job-pulse", daemon=True)

    def __enter__(self) -> Pulse:
        self._thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._over.set()
        self._thread.join()

    def _run(self) -> None:
        try:
            while not self._over.wait(self._seconds):
                self._beat()
        finally:
            connection.close()

    def _beat(self) -> None:
        try:
            self._progress.beat()
        except DatabaseError:  # the database restarts: the next beat tries a new connection
            logger.warning("A job's heartbeat could not be written.")
            connection.close()
