"""Whether the text is JSON and has a case document's shape, in words an author can act on."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from casebank.domain.casefile.problems import Problem, error
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.examination.model import SLOTS

MAX_CHARACTERS = 1_000_000

Context = dict[str, Any]

_SENTENCES: dict[str, Callable[[Context], str]] = {
    "missing": lambda _: "is missing; every case needs it",
    "extra_forbidden": lambda _: "is not a field known here; correct its name or remove it",
    "string_pattern_mismatch": lambda c: _pattern(c["pattern"]),
    "string_too_short": lambda _: "must not be empty",
    "string_too_long": lambda c: f"is too long; write at most {c['max_length']} characters",
    "too_short": lambda c: f"needs at least {c['min_length']} (it has {c['actual_length']})",
    "greater_than": lambda c: f"must be above {c['gt']:g}",
    "greater_than_equal": lambda c: f"must be {c['ge']:g} or more",
    "less_than": lambda c: f"must be below {c['lt']:g}",
    "less_than_equal": lambda c: f"must be {c['le']:g} or less",
    "literal_error": lambda c: f"must be {c['expected']}",
    "string_type": lambda _: "must be text in quotation marks",
    "int_type": lambda _: "must be a whole number without quotation marks",
    "int_from_float": lambda _: "must be a whole number",
    "float_type": lambda _: "must be a number without quotation marks",
    "finite_number": lambda _: "must be a finite number",
    "bool_type": lambda _: "must be true or false without quotation marks",
    "tuple_type": lambda _: "must be a list in square brackets",
    "dict_type": lambda _: "must be an object in curly brackets",
    "model_type": lambda _: "must be an object in curly brackets",
    "value_error": lambda c: str(c["error"]),
    "json_invalid": lambda c: f"is not valid JSON: {c['error']}",
    "string_unicode": lambda _: "holds a character that is not text; remove it",
}


class UnreadableError(ValueError):
    """The text is not acceptable JSON; the message says what to put right."""


def read(raw: dict[str, Any] | str) -> tuple[CaseDocument | None, list[Problem]]:
    """The document, or None with the problems of its shape."""
    try:
        text = raw if isinstance(raw, str) else _written(raw)
        must_be_one_object(text)
        return CaseDocument.model_validate_json(text, strict=True), []
    except ValidationError as failure:
        return None, [problem_of(detail) for detail in failure.errors(include_url=False)]
    except (UnreadableError, RecursionError) as failure:
        return None, [error("", _unreadable(failure))]


def path_of(location: tuple[int | str, ...]) -> str:
    """``("findings", 3, "when", "site")`` as ``findings[3].when.site``."""
    path = ""
    for part in location:
        if part != "[key]":
            path += f"[{part}]" if isinstance(part, int) else f".{part}"
    return path.removeprefix(".")


def problem_of(detail: ErrorDetails) -> Problem:
    """What pydantic found wrong, in words and with its path."""
    sentence = _SENTENCES.get(detail["type"])
    context = detail.get("ctx", {})
    words = sentence(context) if sentence else detail["msg"].lower()
    if detail["loc"][-1:] == ("[key]",):
        words = f"as a name {words}"
    return error(path_of(detail["loc"]), words)


def _pattern(pattern: str) -> str:
    if pattern.startswith(f"^({SLOTS[0]}|"):
        return f"must be one of {', '.join(SLOTS)}"
    return "must be lower-case words or numbers joined by single hyphens, like left-arm-2"


def _written(raw: dict[str, Any]) -> str:
    try:
        return json.dumps(raw, ensure_ascii=False, allow_nan=False)
    except (TypeError, ValueError) as failure:
        raise UnreadableError(f"cannot be written as JSON: {failure}") from failure


def must_be_one_object(text: str) -> None:
    """UnreadableError unless the text is one JSON object with each name once."""
    if len(text) > MAX_CHARACTERS:
        raise UnreadableError(f"is too large; a case has at most {MAX_CHARACTERS:,} characters")
    try:
        value = json.loads(text, object_pairs_hook=_unique, parse_constant=_no_constant)
    except json.JSONDecodeError as failure:
        place = f"line {failure.lineno}, column {failure.colno}"
        raise UnreadableError(f"is not valid JSON at {place}: {failure.msg}") from failure
    except UnreadableError:
        raise
    except ValueError as failure:  # Python refuses integers of thousands of digits
        raise UnreadableError("holds a number with far too many digits") from failure
    if not isinstance(value, dict):
        raise UnreadableError("must be one JSON object in curly brackets")


def _unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    names = [name for name, _ in pairs]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise UnreadableError(f"names {twice[0]!r} twice in one object; keep one of them")
    return dict(pairs)


def _no_constant(name: str) -> float:
    raise UnreadableError(f"holds {name}, which is not a JSON number")


def _unreadable(failure: Exception) -> str:
    if isinstance(failure, RecursionError):
        return "is nested too deeply to be a case"
    return str(failure)
