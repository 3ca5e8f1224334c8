"""Marks for reasoning and safety from marking version 2: the same scores, with more said.

Owns the note on calibration and the words of the safety cap.
"""

from __future__ import annotations

from dataclasses import replace

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.marking import thinking
from casebank.domain.marking.model import DomainMark, Line, Point, Record

CLOSE = 0.1
"""Stated and supported probability this near are called close: common practice, no source."""


def reasoning(case: CompiledCase, record: Record) -> DomainMark:
    """As in version 1, with a note on how confidence stood against the evidence."""
    marked = thinking.reasoning(case, record)
    note = calibration_note(record)
    return replace(marked, note=f"{marked.note} {note}".strip()) if note else marked


def calibration_note(record: Record) -> str:
    """Mean probability of the diagnosis put first against what the evidence supported for it.

    Over every statement of a differential; a diagnosis outside the case's hypotheses is supported
    by nothing. Empty where nothing was stated.
    """
    stated = [line for line in record.lines if any(line.payload.get("probabilities", {}).values())]
    if not stated:
        return ""
    pairs = [_first_choice(line) for line in stated]
    mine = sum(own for own, _ in pairs) / len(pairs)
    theirs = sum(supported for _, supported in pairs) / len(pairs)
    seqs = ", ".join(str(line.seq) for line in stated)
    times = f"once (entry {seqs})" if len(pairs) == 1 else f"{len(pairs)} times (entries {seqs})"
    return (
        f"Calibration: you stated a differential {times}, with "
        f"{100 * mine:.0f} % on average for the diagnosis you put first; the evidence then seen "
        f"supported it with {100 * theirs:.0f} %. {_judged(mine - theirs)}"
    )


def _first_choice(line: Line) -> tuple[float, float]:
    stated = line.payload["probabilities"]
    name = max(stated, key=lambda slug: (stated[slug], slug))
    return stated[name], line.payload["supported"].get(name, 0.0)


def _judged(gap: float) -> str:
    if abs(gap) <= CLOSE:
        return "That is close."
    return "You were surer than the evidence." if gap > 0 else "You could have been surer."


def safety(case: CompiledCase, record: Record) -> DomainMark:
    """As in version 1; a contraindicated step says that and how it caps the total."""
    marked = thinking.safety(case, record)
    critical = {item.why for item in case.document.scheme.unsafe}
    points = tuple(_capping(one) if one.words in critical else one for one in marked.points)
    if points == marked.points:
        return marked
    capped = f"The total is held at {thinking.CAP_WHEN_CONTRAINDICATED:.0f} or below."
    return replace(marked, points=points, note=f"{marked.note} {capped}".strip())


def _capping(point: Point) -> Point:
    cap = f"{thinking.CAP_WHEN_CONTRAINDICATED:.0f}"
    words = f"{point.words} Contraindicated: the whole mark cannot be above {cap}."
    return replace(point, words=words)
