"""Owns the phrasings: texts as students may write them with the request a colleague would read.

Reads ``phrasings/<batch>/*.toml``. Does not resolve anything (see ``evaluate``) nor grade (``grading``).
"""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

FOLDER = Path(__file__).parent / "phrasings"
HALVES = ("tune", "report")
COUNTED_ONLY = frozenset({"fourteenth", "sixteenth"})
HALVED = frozenset({"first", "second", "fourth", "fifth", "seventh"})
"""Batches whose texts of odd SHA-256 were never looked at when names were written."""
NEVER_READ = frozenset(
    {
        "eighth",
        "ninth",
        "tenth",
        "eleventh",
        "twelfth",
        "thirteenth",
        "fifteenth",
        "seventeenth",
    }
)
"""Batches from which no name was written."""
KEYS = {"text", "step", "technique", "may", "ambiguous", "accept", "further", "after"}


@dataclass(frozen=True)
class Wanted:
    """A request: ``technique`` must stand, ``may`` lists values allowed but not demanded."""

    step: str
    technique: Mapping[str, str] = field(default_factory=dict)
    may: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True)
class Phrasing:
    """One text with what a fair colleague reads in it.

    ``requests`` is empty for a text that must not be understood. ``accept`` lists the steps that
    would all be fair readings of an ambiguous text; ``after`` is the request made before. ``batch`` is
    the folder: which writing of texts it came from.
    """

    text: str
    requests: tuple[Wanted, ...]
    kind: str
    batch: str
    ambiguous: bool = False
    accept: frozenset[str] = frozenset()
    after: Wanted | None = None

    @property
    def half(self) -> str:
        """``tune`` where the resolver may be improved by it, ``report`` for a batch that is only
        ever counted."""
        return "report" if self.batch in COUNTED_ONLY else "tune"

    @property
    def is_unread(self) -> bool:
        """Whether no name was written from the text: to the catalogue it is new."""
        is_odd = hashlib.sha256(self.text.encode()).digest()[-1] % 2 == 1
        return self.batch in NEVER_READ or (self.batch in HALVED and is_odd)

    @property
    def outside(self) -> bool:
        """Whether the text asks for nothing that the catalogue holds."""
        return not self.requests


def load_phrasings(folder: Path = FOLDER) -> list[Phrasing]:
    """Every phrasing of the folder's files, in file order; ``kind`` is the file's name."""
    return [_phrasing(row, path) for path, row in raw_entries(folder)]


def raw_entries(folder: Path = FOLDER) -> list[tuple[Path, dict[str, object]]]:
    """Every entry as written, with its file."""
    return [
        (path, row)
        for path in sorted(folder.rglob("*.toml"))
        for row in tomllib.loads(path.read_text(encoding="utf-8"))["phrasing"]
    ]


def _phrasing(row: Mapping[str, object], path: Path) -> Phrasing:
    further = row.get("further", [])
    rows = [row, *further] if row["step"] else []  # type: ignore[misc]
    after = row.get("after")
    return Phrasing(
        text=str(row["text"]),
        requests=tuple(_wanted(each) for each in rows),
        kind=path.stem,
        batch=path.parent.name,
        ambiguous=bool(row.get("ambiguous", False)),
        accept=frozenset(row.get("accept", [])),  # type: ignore[call-overload]
        after=_wanted(after) if after else None,  # type: ignore[arg-type]
    )


def _wanted(row: Mapping[str, object]) -> Wanted:
    may: Mapping[str, list[str]] = row.get("may", {})  # type: ignore[assignment]
    return Wanted(
        step=str(row["step"]),
        technique=dict(row.get("technique", {})),  # type: ignore[call-overload]
        may={slot: tuple(values) for slot, values in may.items()},
    )
