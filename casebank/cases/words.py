"""Sentences about where a version stands and what happened to it; decides nothing."""

from __future__ import annotations

import re
from typing import Any

from casebank.cases.forms.raw import Raw, rows, shown
from casebank.cases.sections import finding_place
from casebank.domain.workflow import CaseState

NEXT_STEP = {
    CaseState.DRAFT: "Fill its sections until the case check is clear, then submit it for review.",
    CaseState.SUBMITTED: "Wait for a reviewer. Withdraw it if you want to change something.",
    CaseState.RETURNED: "Read the comments, then take up the draft again.",
    CaseState.APPROVED: "Publish it when students should meet this patient.",
    CaseState.PUBLISHED: "Students can examine this patient. Start a new version to change it.",
    CaseState.RETIRED: "Students no longer meet this version. It is kept for its encounters.",
}
HAPPENED = {
    "case_created": "began the case",
    "version_started": "began this version",
    "case_submitted": "submitted it for review",
    "case_withdrawn": "withdrew it to draft",
    "case_returned": "returned it with comments",
    "case_reopened": "took up the draft again",
    "case_approved": "approved it",
    "case_published": "published it",
    "case_retired": "retired it",
}
FIELD_WORDS = {
    "when": "technique",
    "well": "good technique",
    "says": "what is noticed",
    "outcome": "counts as",
    "given": "chances",
    "to": "leads to",
    "on_step": "step that leads on",
    "slug": "short name",
    "scheme": "marking scheme",
    "tau": "least information",
    "positive": "LR+",
    "negative": "LR−",
    "positive_interval": "interval of LR+",
    "negative_interval": "interval of LR−",
    "sensitivity_interval": "interval of the sensitivity",
    "specificity_interval": "interval of the specificity",
    "assumed": "what was assumed",
}
ONE_OF = {
    "stages": "stage", "moves": "move", "hypotheses": "hypothesis", "answers": "answer",
    "essential": "essential step", "routine": "routine step", "unsafe": "unsafe step",
    "order": "pair", "table": "outcome", "points": "point", "sources": "source",
    "cautions": "caution", "truth": "true diagnosis", "targets": "target", "demands": "demand",
    "together": "combination", "diagnoses": "diagnosis",
}  # fmt: skip
_PIECE = re.compile(r"([^.\[\]]+)(?:\[(\d+)\])?")


def next_step(state: str) -> str:
    """What the author does next with a version in this state."""
    return NEXT_STEP[CaseState(state)]


def happened(name: str) -> str:
    """An event's name as a verb phrase."""
    return HAPPENED.get(name, name.replace("_", " "))


def place_in_words(path: str, document: Raw) -> str:
    """A path as a person says it: "Murmur, answer 2, what is noticed"."""
    place = finding_place(path)
    rest = path.removeprefix("scheme.")
    said: list[str] = []
    if place is not None:
        said.append(_finding_name(place, document))
        rest = path.partition("]")[2].lstrip(".")
    said += [_piece(*match.groups()) for match in _PIECE.finditer(rest)]
    text = ", ".join(word for word in said if word) or "The document"
    return text[:1].upper() + text[1:]


def _finding_name(place: int, document: Raw) -> str:
    findings = rows(document, "findings")
    label = shown(findings[place].get("label")) if place < len(findings) else ""
    return label or f"finding {place + 1}"


def _piece(name: str, place: Any) -> str:
    if place is not None:
        return f"{ONE_OF.get(name, name)} {int(place) + 1}"
    return FIELD_WORDS.get(name, name.replace("_", " "))
