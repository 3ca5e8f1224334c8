"""Decides when a silent child is to be started again; reads no clock and starts nothing.

All times are seconds of a monotonic clock. Signs are compared only with one another, so a clock
that was set, a laptop that slept and an old sign in the database mislead nobody.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

GRACE = 30.0
MOST_DOUBLINGS = 5


@dataclass(frozen=True)
class Vigil:
    """One child's silence: ``limit`` seconds are borne, twice as many after each restart."""

    limit: float
    started_at: float
    seen_at: float
    sign: datetime | None = None
    restarts: int = 0

    @classmethod
    def begun(cls, limit: float, now: float) -> Vigil:
        """The vigil of a child just started: it has ``GRACE`` seconds to come up first."""
        return cls(limit=limit, started_at=now, seen_at=now + GRACE)

    @property
    def patience(self) -> float:
        """The silence borne now; it grows so that a broken machine is not hammered."""
        return float(self.limit * 2 ** min(self.restarts, MOST_DOUBLINGS))

    def silence(self, now: float) -> float:
        """Seconds since it was last seen; below zero during the grace."""
        return now - self.seen_at

    def is_stale(self, now: float) -> bool:
        """Whether it is to be started again."""
        return self.silence(now) > self.patience

    def looked(self, sign: datetime | None, now: float) -> Vigil:
        """After a look: another sign than before is life, the first one found may be old.

        A child that lives on for longer than its patience is well: its restarts are forgotten.
        """
        if sign in (None, self.sign):
            return self
        if self.sign is None:
            return replace(self.excused(now), sign=sign)
        is_well = now - self.started_at > self.patience
        return replace(self, sign=sign, seen_at=now, restarts=0 if is_well else self.restarts)

    def excused(self, now: float) -> Vigil:
        """Its silence so far says nothing about it."""
        return replace(self, seen_at=max(self.seen_at, now))

    def restarted(self, now: float) -> Vigil:
        """It was started again just now."""
        return replace(self, started_at=now, seen_at=now + GRACE, restarts=self.restarts + 1)


def after_look(
    vigils: Mapping[str, Vigil], signs: Mapping[str, datetime] | None, now: float
) -> dict[str, Vigil]:
    """Every vigil after one look at the signs; None: they could not be read.

    Nobody can leave a sign in a database that is away, and without beat nothing asks the worker
    for one: silence is then excused.
    """
    if signs is None:
        return {name: vigil.excused(now) for name, vigil in vigils.items()}
    looked = {name: vigil.looked(signs.get(name), now) for name, vigil in vigils.items()}
    if looked["beat"].silence(now) > looked["beat"].limit / 2:
        looked["worker"] = looked["worker"].excused(now)
    return looked
