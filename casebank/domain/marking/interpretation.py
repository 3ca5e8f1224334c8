"""Marks for interpretation: perceived signs named right, each feature for itself.

A finding counts once: the best of its occasions, and at each occasion the last reading. What was
never perceived is not marked here; leaving it out is lost in coverage.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from casebank.domain.casefile.checks.signs import accepted
from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.perceive import Heard, Medium, perceived
from casebank.domain.examination.vocabulary import Vocabulary
from casebank.domain.marking.model import DomainMark, Line, Point, Record
from casebank.domain.marking.naming import Naming, naming_of

NO_SIGN = "This patient has no sign to be named by ear or eye."
NONE_PERCEIVED = "You came upon no sign that is to be named; what was missed counts in coverage."


@dataclass(frozen=True)
class Occasion:
    """A finding perceived at an entry, and the reading of it, if any."""

    heard: Heard
    naming: Naming
    entry: int
    reading: Line | None

    @property
    def worth(self) -> tuple[float, bool]:
        """What makes one occasion better than another: its score, then that it was read at all."""
        return self.naming.score, self.reading is not None


def interpretation(case: CompiledCase, record: Record) -> DomainMark:
    """Mean score of the perceived findings; None where there was none to name."""
    best: dict[str, Occasion] = {}
    for occasion in occasions(case, record):
        before = best.get(occasion.heard.finding)
        if before is None or occasion.worth > before.worth:
            best[occasion.heard.finding] = occasion
    points = tuple(_point(occasion, case.catalogue.vocabulary) for occasion in best.values())
    return DomainMark(
        domain="interpretation",
        score=100 * sum(point.earned for point in points) / len(points) if points else None,
        weight=case.document.scheme.weights.get("interpretation", 0.0),
        points=points,
        note="" if points else NONE_PERCEIVED if has_signs(case) else NO_SIGN,
    )


def has_signs(case: CompiledCase) -> bool:
    """Whether any finding of the case is to be named from hearing or seeing it."""
    return any(answer.sign for finding in case.document.findings for answer in finding.answers)


def occasions(case: CompiledCase, record: Record) -> Iterator[Occasion]:
    """Every time a finding was perceived, in order of the log."""
    readings = {
        (line.payload["entry"], line.payload["medium"]): line
        for line in record.lines
        if line.kind == "reading"
    }
    for line in record.requests():
        for number, medium in enumerate(_media(case, line.payload)):
            read = readings.get((line.seq, number))
            yield from _heard(line, medium, read, case.catalogue.vocabulary)


def _media(case: CompiledCase, payload: Mapping[str, Any]) -> tuple[Medium, ...]:
    if "media" not in payload:
        return ()
    return perceived(case, payload["step"], payload["technique"], payload["stage"])


def _heard(
    line: Line, medium: Medium, reading: Line | None, vocabulary: Vocabulary
) -> Iterator[Occasion]:
    stated: Sequence[Mapping[str, Sequence[str]]] = reading.payload["stated"] if reading else ()
    for one in medium.heard:
        others = [other.expects for other in medium.heard if other is not one]
        yield Occasion(one, naming_of(one.expects, stated, vocabulary, others), line.seq, reading)


def _point(occasion: Occasion, vocabulary: Vocabulary) -> Point:
    reading = occasion.reading
    heard = occasion.heard
    if reading is None:
        words = f"{heard.label}: perceived, but not named."
    else:
        words = f"{heard.label}: you named it “{reading.payload['text']}”."
    told = "; ".join(_told(occasion, name, vocabulary) for name in heard.expects)
    return Point(
        words=f"{words} {told}.",
        earned=round(occasion.naming.score, 4),
        possible=1.0,
        entries=(occasion.entry, *((reading.seq,) if reading else ())),
    )


def _told(occasion: Occasion, feature: str, vocabulary: Vocabulary) -> str:
    """``Timing: mid-systolic (right)``."""
    wanted = (vocabulary.label(feature, v) for v in accepted(occasion.heard.expects[feature]))
    verdict = _verdict(occasion.naming.credits[feature], feature in occasion.naming.stated)
    return f"{vocabulary.features[feature].label}: {' or '.join(wanted)} ({verdict})"


def _verdict(credit: float, is_stated: bool) -> str:
    if not is_stated:
        return "not said"
    return "right" if credit == 1 else "in part" if credit > 0 else "said otherwise"
