"""The parts of a progress page: words and numbers, no rules."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from casebank.core.charts.lines import LineChart
from casebank.domain.debrief.forecasts import Calibration


@dataclass(frozen=True)
class EncounterRow:
    """A concluded encounter with its marks by domain, 0-100, None where not marked."""

    pk: UUID
    title: str
    concluded_at: datetime
    total: float
    adjusted: float | None
    scores: tuple[float | None, ...]


@dataclass(frozen=True)
class DomainMean:
    """A domain over all encounters that could be marked in it."""

    words: str
    count: int
    mean: float | None
    last: float | None


@dataclass(frozen=True)
class SystemShare:
    """Essential steps of one body system, done of wanted; Wilson 95 % interval in percent."""

    system: str
    done: int
    wanted: int
    percent: float
    low: float
    high: float


@dataclass(frozen=True)
class PracticeShown:
    """A step to practise: how often it was missed, when it is due, in how many days."""

    step: str
    label: str
    missed: int
    wanted: int
    due: date
    days_left: int

    @property
    def is_due(self) -> bool:
        """Whether it is due now or was due before."""
        return self.days_left <= 0

    @property
    def when(self) -> str:
        """When it is due, in words."""
        if self.days_left < 0:
            late = -self.days_left
            return f"{late} day{'' if late == 1 else 's'} overdue"
        if self.days_left == 0:
            return "due today"
        return f"in {self.days_left} day{'' if self.days_left == 1 else 's'}"


@dataclass(frozen=True)
class Progress:
    """Everything the page shows; ``left_out`` counts older encounters beyond those shown."""

    rows: tuple[EncounterRow, ...]
    domains: tuple[DomainMean, ...]
    systems: tuple[SystemShare, ...]
    calibration: Calibration | None
    practices: tuple[PracticeShown, ...]
    marks_chart: LineChart | None
    calibration_chart: LineChart | None
    left_out: int = 0

    @property
    def bins(self) -> tuple[tuple[float, float, int, float, float, float], ...]:
        """Low, high, count, was so, interval: in percent, for the table under the plot."""
        found = self.calibration.bins if self.calibration else ()
        return tuple(
            (100 * b.low, 100 * b.high, b.count, 100 * b.observed, 100 * b.ci_low, 100 * b.ci_high)
            for b in found
        )
