"""The drawings of a debrief: the sheet on a line of minutes, belief over time, order as arrows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from casebank.core.charts.lines import LineChart, Series, line_chart
from casebank.core.charts.pairs import Pair, PairChart, pair_chart
from casebank.core.charts.plane import Axis
from casebank.core.charts.timeline import Moment, Timeline, timeline
from casebank.domain.debrief.trajectory import most_telling
from casebank.domain.marking.model import Line
from casebank.encounters.debriefing.building import Replay
from casebank.encounters.debriefing.shapes import PairShown

ASKED, CHARGED, STATED, CHANGED = "Asked", "Surcharged", "Differential", "The patient"
PERCENT = Axis("Probability, %", (0, 100))
Run = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Drawings:
    """What is drawn; ``stated`` is None where fewer than two differentials were stated."""

    time: Timeline
    supported: LineChart
    stated: LineChart | None
    order: PairChart | None


def drawings_of(replay: Replay, pairs: Iterable[PairShown]) -> Drawings:
    """Lay all of them out."""
    shown = most_telling(replay.case, replay.run)
    arrows = [
        Pair(one.before_label, one.after_label, one.before_seq, one.after_seq) for one in pairs
    ]
    return Drawings(
        time=_time(replay),
        supported=_lines(replay, shown, "supported"),
        stated=_lines(replay, shown, "stated") if len(replay.run.stated) > 1 else None,
        order=pair_chart(arrows, slug="order-drawing", title="Which came first")
        if arrows
        else None,
    )


def _lines(replay: Replay, shown: Iterable[str], what: str) -> LineChart:
    run, end = replay.run, max(replay.record.state.minute, 1.0)
    titles = {"supported": "What your findings supported", "stated": "What you stated"}
    series = []
    for name in shown:
        points = run.run_of(name) if what == "supported" else run.said_of(name)
        percents = tuple((minute, 100 * p) for minute, p in points)
        series.append(Series(_label(replay, name), _changes(percents, end), is_step=True))
    return line_chart(
        series,
        slug=f"belief-{what}",
        title=titles[what],
        x_axis=Axis("Minutes", (0, end)),
        y_axis=PERCENT,
        decimals=0,
    )


def _changes(points: Run, end: float) -> Run:
    """The first point, those at which it changes, and where it stands at the end."""
    kept = [points[0]]
    kept.extend(one for one in points[1:] if one[1] != kept[-1][1])
    return (*kept, (end, kept[-1][1]))


def _label(replay: Replay, name: str) -> str:
    return replay.case.catalogue.diagnoses[name].label


def _time(replay: Replay) -> Timeline:
    moments = [moment for line in replay.record.lines for moment in _moments(replay, line)]
    kinds = [kind for kind in (ASKED, CHARGED, STATED, CHANGED)
             if any(moment.kind == kind for moment in moments)]  # fmt: skip
    return timeline(moments, slug="time", title="What was done, and when", kinds=kinds)


def _moments(replay: Replay, line: Line) -> Iterable[Moment]:
    minute, url = line.payload["minute"], f"#entry-{line.seq}"
    if line.kind != "request":
        words = "Conclusion" if line.kind == "conclusion" else "Differential stated"
        if line.kind in ("differential", "conclusion"):
            yield Moment(minute, STATED, words, url=url)
        return
    charge = line.payload["charge"]
    label = replay.case.catalogue.steps[line.payload["step"]].label
    yield Moment(minute, CHARGED if charge["surcharge"] else ASKED, label, charge["minutes"], url)
    if line.payload["notice"]:
        yield Moment(minute + charge["minutes"], CHANGED, line.payload["notice"], url=url)
