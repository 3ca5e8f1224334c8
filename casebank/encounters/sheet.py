"""Turns visible log entries into the rows of the sheet; words and numbers only, no rules."""

from __future__ import annotations

from dataclasses import dataclass, replace

from casebank.core.charts.ruler import Ruler, ruler
from casebank.domain.visibility import (
    VisibleCharge,
    VisibleEntry,
    VisibleMedium,
    VisibleReading,
    VisibleRequest,
    VisibleStatement,
)

TITLES = {"differential": "Working differential stated", "conclusion": "Conclusion"}


@dataclass(frozen=True)
class FindingOnSheet:
    """One sentence of what was found, or something to hear or see with its reading.

    ``raised_url``, ``slow_url`` and ``raised_slow_url`` are the sound's other renditions, as WAV.
    ``said``, ``question`` and ``choices`` hold a reading that was asked back.
    """

    key: str
    text: str = ""
    sound_url: str = ""
    sound_fallback_url: str = ""
    raised_url: str = ""
    slow_url: str = ""
    raised_slow_url: str = ""
    picture_url: str = ""
    alternative: str = ""
    reading: str = ""
    understood: tuple[str, ...] = ()
    unused: tuple[str, ...] = ()
    reading_url: str = ""
    said: str = ""
    question: str = ""
    choices: tuple[str, ...] = ()

    def asked_back(self, said: str, question: str, choices: tuple[str, ...]) -> FindingOnSheet:
        """The same with a question about what was said."""
        return replace(self, said=said, question=question, choices=choices)


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

    def with_finding(self, finding: FindingOnSheet) -> Row:
        """The same with this finding in place of the one of its key."""
        found = tuple(finding if one.key == finding.key else one for one in self.findings)
        return replace(self, findings=found)


def rows_of(entries: list[VisibleEntry]) -> list[Row]:
    """The rows of these entries, in order; a reading shows with what it names, not as a row."""
    return [row_of(entry) for entry in entries if not isinstance(entry, VisibleReading)]


def finding_named(rows: list[Row], seq: int, index: int) -> FindingOnSheet | None:
    """The finding that is the nth thing to hear or see of an entry; None where there is none."""
    key = _medium_key(seq, index)
    return next((one for row in rows for one in row.findings if one.key == key), None)


def row_of(entry: VisibleRequest | VisibleStatement) -> Row:
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
        findings=(
            *(FindingOnSheet(f"{entry.seq}-{n}", text) for n, text in enumerate(entry.shown)),
            *(perceptible(medium, _medium_key(entry.seq, medium.index)) for medium in entry.media),
        ),
        notice=entry.notice,
        flags=entry.flags,
        charge=entry.charge,
    )


def perceptible(medium: VisibleMedium, key: str) -> FindingOnSheet:
    """Something to hear or see with its player or picture, and its reading."""
    is_sound = medium.kind == "sound"
    others = {name: f"{address}.wav" for name, address in medium.renditions.items()}
    return FindingOnSheet(
        key=key,
        sound_url=f"{medium.address}.flac" if is_sound else "",
        sound_fallback_url=f"{medium.address}.wav" if is_sound else "",
        raised_url=others.get("raised", ""),
        slow_url=others.get("slow", ""),
        raised_slow_url=others.get("raised-slow", ""),
        picture_url=f"{medium.address}.svg",
        alternative=medium.alternative,
        reading=medium.text,
        understood=medium.understood,
        unused=medium.unused,
        reading_url=medium.reading_address,
    )


def _medium_key(seq: int, index: int) -> str:
    return f"{seq}-m{index}"
