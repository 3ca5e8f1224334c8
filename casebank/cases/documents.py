"""Raw case documents as authors bring them: read from text, and whether a draft can hold them.

A draft may be incomplete and break rules; it may not hold fields nobody knows, nor an object where
text belongs, because the editor could not show them. What is wrong beyond that is the case check's.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Any

from pydantic import ValidationError

from casebank.cases.errors import UnreadableDocument
from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.checks.shape import path_of
from casebank.domain.casefile.likelihoods import Accuracy, Evidence, OutcomeRow, Ratios
from casebank.domain.casefile.problems import Problem, error
from casebank.domain.casefile.schema import (
    Answer,
    CaseDocument,
    Finding,
    Hypothesis,
    Move,
    Patient,
    Precedence,
    Presentation,
    Scheme,
    Sign,
    Stage,
    Teaching,
    Together,
    Unsafe,
    Wanted,
)
from casebank.domain.examination.model import SLOTS, Catalogue

MAX_BYTES = 1_000_000
TITLE_LENGTH = 200
UNTITLED = "Untitled case"
WRONG_CONTAINER = {"tuple_type", "dict_type", "model_type", "extra_forbidden"}
FIRST_WEIGHTS = {
    "coverage": 25,
    "technique": 15,
    "order": 10,
    "interpretation": 15,
    "reasoning": 20,
    "economy": 10,
    "safety": 5,
}
"""Where a new scheme starts; common practice, no source. The author changes them."""

_PARTS = (
    CaseDocument, Patient, Stage, Move, Presentation, Hypothesis, Together, Finding, Answer, Sign,
    Evidence, OutcomeRow, Ratios, Accuracy, Scheme, Wanted, Unsafe, Precedence, Teaching,
)  # fmt: skip
_FIELDS = (name for part in _PARTS for name in part.model_fields)
FIELD_ORDER = {name: place for place, name in enumerate(dict.fromkeys([*_FIELDS, *SLOTS]))}

Document = dict[str, Any]


def title_of(document: Document) -> str:
    """What lists call the case; never empty."""
    title = str(document.get("title") or "").strip()
    return title[:TITLE_LENGTH] or UNTITLED


def new_document(title: str) -> Document:
    """What a new draft begins with: one stage and a scheme to change, nothing clinical."""
    return {
        "schema_version": 1,
        **({"title": title} if title else {}),
        "stages": [{"id": "start", "label": "At the start"}],
        "scheme": {"demands": ["hygiene", "consent"], "weights": dict(FIRST_WEIGHTS), "tau": 0.05},
    }


def written(document: Document) -> str:
    """The document as text, its fields in the schema's order (the database keeps none)."""
    return json.dumps(_ordered(document), ensure_ascii=False, indent=2) + "\n"


def _ordered(value: Any) -> Any:
    if isinstance(value, list):
        return [_ordered(item) for item in value]
    if not isinstance(value, dict):
        return value
    names = sorted(value, key=lambda name: FIELD_ORDER.get(name, len(FIELD_ORDER)))
    return {name: _ordered(value[name]) for name in names}


def read_document(content: bytes | str, catalogue: Catalogue) -> Document:
    """The document in this JSON text (UTF-8), fit for a draft.

    Raises UnreadableDocument with every problem's path.
    """
    text = _decoded(content)
    problems = check_case(text, catalogue).problems
    unreadable = [problem for problem in problems if problem.path == ""]
    if unreadable and not _is_object(text):
        raise UnreadableDocument(unreadable)
    document: Document = json.loads(text)
    must_fit_a_draft(document, problems)
    return document


def must_fit_a_draft(document: Document, problems: tuple[Problem, ...] = ()) -> None:
    """Raise UnreadableDocument where a draft cannot hold it, with ``problems`` listed after."""
    try:
        wrong = [*_unstorable(document), *_misshapen(document)]
    except RecursionError:
        wrong = [error("", "is nested too deeply to be a case")]
    if wrong:
        known = {problem.path for problem in wrong}
        rest = (problem for problem in problems if problem.path not in known)
        raise UnreadableDocument([*wrong, *rest])


def _decoded(content: bytes | str) -> str:
    size = len(content if isinstance(content, bytes) else content.encode("utf-8", "replace"))
    if size > MAX_BYTES:
        raise UnreadableDocument([error("", "is larger than 1 MB; a case document is smaller")])
    try:
        return content if isinstance(content, str) else content.decode("utf-8-sig")
    except UnicodeDecodeError:
        sentence = "is not text in UTF-8; choose the JSON file of a case"
        raise UnreadableDocument([error("", sentence)]) from None


def _is_object(text: str) -> bool:
    """Whether the text parses to an object with each name once and numbers JSON knows."""
    try:
        return isinstance(json.loads(text, object_pairs_hook=_once, parse_constant=_refused), dict)
    except (ValueError, RecursionError):
        return False


def _refused(name: str) -> float:
    raise ValueError(name)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len(dict(pairs)) != len(pairs):
        raise ValueError("a name stands twice")
    return dict(pairs)


def _unstorable(value: Any, path: tuple[int | str, ...] = ()) -> Iterator[Problem]:
    """Places PostgreSQL's JSON cannot keep: NUL, lone surrogates, numbers without end."""
    if isinstance(value, str) and ("\0" in value or not _is_unicode(value)):
        yield error(path_of(path), "holds a character that is not text; remove it")
    elif isinstance(value, float) and not math.isfinite(value):
        yield error(path_of(path), "must be a finite number")
    elif isinstance(value, dict):
        for name, item in value.items():
            yield from _unstorable(name, path)
            yield from _unstorable(item, (*path, name))
    elif isinstance(value, list):
        for place, item in enumerate(value):
            yield from _unstorable(item, (*path, place))


def _is_unicode(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def _misshapen(document: Document) -> Iterator[Problem]:
    try:
        CaseDocument.model_validate_json(json.dumps(document), strict=True)
    except ValidationError as failure:
        for detail in failure.errors(include_url=False):
            if _is_misshapen(detail["type"], detail["input"]):
                yield error(path_of(detail["loc"]), _sentence(detail["type"]))


def _is_misshapen(kind: str, value: Any) -> bool:
    if kind in WRONG_CONTAINER:
        return True
    scalar_wanted = kind.endswith(("_type", "_parsing")) or kind == "literal_error"
    return scalar_wanted and isinstance(value, dict | list)


def _sentence(kind: str) -> str:
    return {
        "extra_forbidden": "is not a field known here; correct its name or remove it",
        "tuple_type": "must be a list in square brackets",
        "dict_type": "must be an object in curly brackets",
        "model_type": "must be an object in curly brackets",
    }.get(kind, "must be a single text or number, not a list or an object")
