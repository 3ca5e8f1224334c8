"""Turns visible log entries into the rows of the sheet; words and numbers only, no rules."""

from __future__ import annotations

from dataclasses import dataclass

from casebank.core.charts.ruler import Ruler, ruler
from casebank.domain.visibility import VisibleCharge, VisibleEntry, VisibleRequest

TITLES = {"differential": "Working differential stated", "conclusion": "Conclusion"}


@dataclass(frozen=True)
class FindingOnSheet:
    """One sentence of what was found."""

    key: str
    text: str


@dataclass(frozen=True)
class Row:
    """One row of the sheet."""

    seq: int
    kind: str
    minute: float
    ruler: Ruler | None
    text: str
    step_label: str
    technique: tuple[tuple[str, str], ...]
    findings: tuple[FindingOnSheet, ...]
    notice: str
    flags: tuple[str, ...]
    charge: VisibleCharge | None
    probabilities: tuple[tuple[str, float], ...] = ()


def rows_of(entries: list[VisibleEntry]) -> list[Row]:
    """The rows of these entries, in order."""
    return [row_of(entry) for entry in entries]


def row_of(entry: VisibleEntry) -> Row:
    """The row of one entry."""
    if isinstance(entry, VisibleRequest):
        return _request_row(entry)
    texts = [text for text in (entry.summary, entry.plan) if text]
    return Row(
        seq=entry.seq,
        kind=entry.kind,
        minute=entry.minute,
        ruler=None,
        text="",
        step_label=TITLES[entry.kind],
        technique=(),
        findings=tuple(FindingOnSheet(f"{entry.seq}-{n}", t) for n, t in enumerate(texts)),
        notice="",
        flags=(),
        charge=None,
        probabilities=tuple((label, round(100 * p)) for label, p in entry.probabilities),
    )


def _request_row(entry: VisibleRequest) -> Row:
    return Row(
        seq=entry.seq,
        kind="request",
        minute=entry.minute,
        ruler=ruler(start=entry.minute, minutes=entry.charge.minutes),
        text=entry.text,
        step_label=entry.label,
        technique=tuple((chip.slot, chip.label) for chip in entry.chips),
        findings=tuple(FindingOnSheet(f"{entry.seq}-{n}", t) for n, t in enumerate(entry.shown)),
        notice=entry.notice,
        flags=entry.flags,
        charge=entry.charge,
    )
