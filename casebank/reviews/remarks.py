"""Which comments stand beside which part of the reading page; decides nothing."""

from __future__ import annotations

import re
from collections.abc import Iterable

from casebank.cases.reading import ReadCase
from casebank.cases.sections import section_of
from casebank.reviews.models import Comment

_FINDING = re.compile(r"findings(?:\[(\d+)\]|\.([a-z0-9-]+))")
PLACES = {
    "opening": "opening",
    "stages": "stages",
    "hypotheses": "hypotheses",
    "findings": "findings",
    "essential": "scheme.essential",
    "routine": "scheme.routine",
    "safety": "scheme.unsafe",
    "weights": "scheme.weights",
    "teaching": "teaching",
}
"""The path a comment on a whole section carries."""


def remarks_by_place(comments: Iterable[Comment], read: ReadCase) -> dict[str, list[Comment]]:
    """Comments by anchor: ``whole``, a section's slug, or ``finding-<place>``."""
    found: dict[str, list[Comment]] = {}
    for comment in comments:
        found.setdefault(_anchor(comment.path, read), []).append(comment)
    return found


def _anchor(path: str, read: ReadCase) -> str:
    section = section_of(path)
    if section is None:
        return "whole"
    named = _FINDING.match(path)
    if named:
        for finding in read.findings:
            if named[1] == str(finding.place) or (named[2] and named[2] == finding.key):
                return f"finding-{finding.place}"
    return section.slug
