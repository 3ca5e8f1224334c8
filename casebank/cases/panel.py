"""The case check as the editor shows it: problems with their place in words and a way there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from casebank.cases.forms.raw import rows, shown
from casebank.cases.models import CaseVersion
from casebank.cases.sections import SECTIONS, Section, finding_place, section_of
from casebank.cases.words import place_in_words
from casebank.domain.casefile.problems import Problem


@dataclass(frozen=True)
class Shown:
    """A problem, said."""

    place: str
    message: str
    is_error: bool
    url: str


@dataclass(frozen=True)
class SectionLink:
    """A section in the list of sections, with how much is wrong in it."""

    section: Section
    url: str
    errors: int
    warnings: int
    comments: int
    is_current: bool

    @property
    def tally(self) -> str:
        """What is open here, in words; empty when nothing is."""
        said = ((self.errors, "error"), (self.warnings, "warning"), (self.comments, "comment"))
        return ", ".join(f"{n} {word}{'s' * (n > 1)}" for n, word in said if n)


def shown_problems(version: CaseVersion, problems: Iterable[Problem]) -> list[Shown]:
    """The problems, errors first, each with its place in words."""
    said = [
        Shown(
            place_in_words(problem.path, version.document),
            problem.message,
            problem.severity == "error",
            url_of(version, problem.path),
        )
        for problem in problems
    ]
    return sorted(said, key=lambda item: not item.is_error)


def url_of(version: CaseVersion, path: str) -> str:
    """Where the author puts this place right."""
    place = finding_place(path)
    if place is not None:
        return reverse("cases:finding", args=[version.pk, place])
    section = section_of(path)
    if section is None:
        return reverse("cases:version", args=[version.pk])
    return section_url(version, section)


def section_url(version: CaseVersion, section: Section) -> str:
    """The editor's page of a section."""
    return reverse("cases:section", args=[version.pk, section.slug])


def section_links(
    version: CaseVersion, problems: Iterable[Problem], comments: Iterable[Any], current: str = ""
) -> list[SectionLink]:
    """All sections with their tallies."""
    said = list(problems)
    paths = [comment.path for comment in comments]
    return [_link(version, section, said, paths, current) for section in SECTIONS]


def _link(
    version: CaseVersion, section: Section, problems: list[Problem], paths: list[str], current: str
) -> SectionLink:
    here = [problem.severity for problem in problems if section_of(problem.path) is section]
    return SectionLink(
        section=section,
        url=section_url(version, section),
        errors=here.count("error"),
        warnings=here.count("warning"),
        comments=sum(section_of(path) is section for path in paths),
        is_current=section.slug == current,
    )


def is_about(path: str, section: Section, finding: dict[str, Any] | None, place: int) -> bool:
    """Whether a comment's path belongs on this page: its section, and there its finding if any."""
    if section_of(path) is not section:
        return False
    if finding is None:
        return True
    starts = (f"findings[{place}]", f"findings.{shown(finding.get('id'))}")
    return path == "findings" or any(
        path == start or path.startswith((f"{start}.", f"{start}[")) for start in starts
    )


def finding_at(version: CaseVersion, place: int) -> dict[str, Any] | None:
    """The raw finding at this place, or None."""
    found = rows(version.document, "findings")
    return found[place] if place < len(found) else None
