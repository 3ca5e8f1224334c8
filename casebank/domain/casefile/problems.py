"""What the case check says: problems with their place in the document, and the review they make."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal

from casebank.domain.casefile.schema import CaseDocument

Severity = Literal["error", "warning"]


@dataclass(frozen=True)
class Problem:
    """One thing to put right; ``path`` is its place, e.g. ``findings[3].answers[0].when.site``.

    An error forbids publishing; a warning asks the author to look again. The empty path is the
    document as a whole.
    """

    path: str
    severity: Severity
    message: str


@dataclass(frozen=True)
class CaseReview:
    """The document, or None where its shape could not be read, with every problem found."""

    document: CaseDocument | None
    problems: tuple[Problem, ...]

    @property
    def is_fit(self) -> bool:
        """Whether the document was read and no problem is an error."""
        return self.document is not None and not self.errors

    @property
    def errors(self) -> tuple[Problem, ...]:
        """The problems that forbid publishing."""
        return tuple(problem for problem in self.problems if problem.severity == "error")


def error(path: str, message: str) -> Problem:
    """A problem that forbids publishing."""
    return Problem(path, "error", message)


def warning(path: str, message: str) -> Problem:
    """A problem the author should look at and may leave."""
    return Problem(path, "warning", message)


def unknown(path: str, kind: str, name: str, known: Iterable[str]) -> Problem:
    """The error for a name that is not among the known ones, with the nearest offered."""
    near = get_close_matches(name, list(known), n=2, cutoff=0.6)
    hint = f"; did you mean {' or '.join(near)}?" if near else ""
    return error(path, f"there is no {kind} {name!r}{hint}")


def repeated(paths_and_names: Iterable[tuple[str, str]], kind: str) -> Iterable[Problem]:
    """An error for every name that stood at an earlier path already."""
    first: dict[str, str] = {}
    for path, name in paths_and_names:
        if name in first:
            yield error(path, f"{kind} {name!r} already stands at {first[name]}")
        first.setdefault(name, path)
