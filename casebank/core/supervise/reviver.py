"""Starts a child again that runs but shows no life; one that ended is the site's business."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime

from django.db import DatabaseError, connection

from casebank.core.health.signs import last_signs, late_after
from casebank.core.supervise.child import Child
from casebank.core.supervise.vigil import Vigil, after_look

logger = logging.getLogger(__name__)
WATCHED = ("beat", "worker")
LOOKS_IN_A_LIMIT = 20
SECONDS_TO_STOP = 3.0

Signs = Mapping[str, datetime]


def signs_in_database() -> Signs | None:
    """The signs ``/readyz`` goes by; None when the database cannot be asked."""
    try:
        return last_signs()
    except DatabaseError:
        return None
    finally:
        connection.close()  # looks are rare, and a server that stops need not wait for us


class Reviver:
    """Watches beat and worker from the moment it is made."""

    def __init__(
        self,
        children: Sequence[Child],
        *,
        read_signs: Callable[[], Signs | None] = signs_in_database,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._children = {child.name: child for child in children if child.name in WATCHED}
        self._read_signs, self._clock = read_signs, clock
        self._limit = late_after().total_seconds()
        self._vigils = {name: Vigil.begun(self._limit, clock()) for name in self._children}
        self._next_look = clock()

    def look(self) -> None:
        """Look when it is time to, and start again whatever has been silent for too long."""
        if self._clock() < self._next_look:
            return
        self._next_look = self._clock() + self._limit / LOOKS_IN_A_LIMIT
        self._vigils = after_look(self._vigils, self._read_signs(), self._clock())
        for name, vigil in self._vigils.items():
            if vigil.is_stale(self._clock()):
                self._revive(name, vigil)

    def _revive(self, name: str, vigil: Vigil) -> None:
        child, silence = self._children[name], vigil.silence(self._clock())
        # A signal that ends the site is raised in here too: what it interrupts is not resumed.
        child.restart(SECONDS_TO_STOP)
        again = self._vigils[name] = vigil.restarted(self._clock())
        logger.warning(
            "The %s showed no life for %.0f s and was started again (%d in a row, next after "
            "%.0f s of silence): %s says more.",
            name, silence, again.restarts, again.patience, child.log,
        )  # fmt: skip
