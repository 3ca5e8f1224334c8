"""How belief moved: what the evidence supported after each request, beside what was stated."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.debrief.walk import state_after, state_before
from casebank.domain.encounter.knowledge import supported_diagnoses
from casebank.domain.marking.model import Record

MOST_SHOWN = 4
STATED_KINDS = ("differential", "conclusion")


@dataclass(frozen=True)
class Supported:
    """The posterior (H,) after a request; ``seq`` 0 is the prior, before any.

    ``minute`` is when the request was done.
    """

    seq: int
    minute: float
    posterior: tuple[float, ...]


@dataclass(frozen=True)
class Stated:
    """A differential as the student gave it, by diagnosis; what is not named counts as 0."""

    seq: int
    minute: float
    probabilities: Mapping[str, float]


@dataclass(frozen=True)
class Trajectory:
    """Both runs, in order; ``hypotheses`` (H,) names the places of every posterior."""

    hypotheses: tuple[str, ...]
    supported: tuple[Supported, ...]
    stated: tuple[Stated, ...]

    @property
    def final(self) -> tuple[float, ...]:
        """The posterior of all the evidence seen."""
        return self.supported[-1].posterior

    def run_of(self, hypothesis: str) -> tuple[tuple[float, float], ...]:
        """(minute, probability) of one hypothesis, as the evidence supported it."""
        place = self.hypotheses.index(hypothesis)
        return tuple((one.minute, one.posterior[place]) for one in self.supported)

    def said_of(self, hypothesis: str) -> tuple[tuple[float, float], ...]:
        """(minute, probability) of one hypothesis, as it was stated."""
        return tuple((one.minute, one.probabilities.get(hypothesis, 0.0)) for one in self.stated)


def trajectory(case: CompiledCase, record: Record) -> Trajectory:
    """The posterior before anything, after every request, and every differential stated."""
    start = Supported(0, 0.0, _posterior(case, record, None))
    asked = record.state.asked
    after = (
        Supported(
            seq=one.seq,
            minute=round(one.minute + case.catalogue.steps[one.step].minutes, 6),
            posterior=_posterior(case, record, place),
        )
        for place, one in enumerate(asked)
    )
    return Trajectory(case.hypotheses, (start, *after), _stated(record))


def _posterior(case: CompiledCase, record: Record, place: int | None) -> tuple[float, ...]:
    # Before the first request nothing was seen, whatever the state is otherwise.
    state = state_before(record, 0) if place is None else state_after(record, place)
    return tuple(float(p) for p in supported_diagnoses(case, state))


def _stated(record: Record) -> tuple[Stated, ...]:
    return tuple(
        Stated(line.seq, line.payload["minute"], line.payload["probabilities"])
        for line in record.lines
        if line.kind in STATED_KINDS
    )


def most_telling(case: CompiledCase, run: Trajectory, most: int = MOST_SHOWN) -> tuple[str, ...]:
    """The hypotheses worth a line: the truth, the two most believed, what must not be missed.

    The truth comes first; of many that must not be missed, and of all others while there is room,
    those that were ever likeliest, by the evidence or in the student's words.
    """
    peak = {name: _peak(run, name) for name in run.hypotheses}
    others = sorted(run.hypotheses, key=lambda name: -peak[name])
    grave = [h.diagnosis for h in case.document.hypotheses if h.must_not_miss]
    grave.sort(key=lambda name: -peak[name])
    wanted = [*case.document.truth, *_most_believed(run), *grave, *others]
    return tuple(dict.fromkeys(wanted))[:most]


def _peak(run: Trajectory, name: str) -> float:
    """The most that was ever believed of it, by the evidence or in the student's words."""
    return max(p for _, p in (*run.run_of(name), *run.said_of(name)))


def _most_believed(run: Trajectory) -> Sequence[str]:
    """The two that ended highest, by the student's last word or else by the evidence."""
    last = run.stated[-1].probabilities if run.stated else {}
    ends = dict(zip(run.hypotheses, run.final, strict=True))
    believed = sorted(ends, key=lambda name: (-last.get(name, 0.0), -ends[name]))
    return believed[:2]
