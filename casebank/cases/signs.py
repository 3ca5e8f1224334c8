"""Signs an author tries: their parameters as typed, and addresses of what they sound and look like.

An address is signed, bound to its owner and gone after an hour; it carries the parameters, so that
nothing is stored. Rendering is ``core.media.sign_files``'s.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.core import signing
from pydantic import ValidationError
from pydantic_core import ErrorDetails

from accounts.models import User
from casebank.domain.casefile.checks.shape import UnreadableError, must_be_one_object, problem_of
from casebank.domain.casefile.problems import Problem, error
from casebank.domain.signs import AnySpec, SignError, alternative
from casebank.domain.signs.spec import ADAPTER

SALT = "casebank.cases.signs"
MAX_AGE = 3600
"""Seconds an address lasts."""
MAX_SPEC = 20_000
MAX_TOKEN = 3_000
"""Characters: servers commonly take addresses of 4,094 or more."""
SOUNDS = ("heart-sound", "breath-sound")
KINDS = (*SOUNDS, "arterial-pulse", "venous-wave", "rhythm-strip", "picture")


class NotASignError(ValueError):
    """The text is no specification; ``problems`` say where and what to do."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__("The specification cannot be used as it is.")
        self.problems = tuple(problems)


@dataclass(frozen=True)
class Tried:
    """A sign and how it is looked for."""

    spec: AnySpec
    technique: Mapping[str, str]

    @property
    def parameters(self) -> dict[str, Any]:
        """The specification as plain data, only what was set."""
        return self.spec.model_dump(mode="json", exclude_unset=True)

    @property
    def is_sound(self) -> bool:
        """Whether there is something to hear."""
        return self.spec.kind in SOUNDS


def read_spec(text: str) -> AnySpec:
    """The specification in this JSON text; NotASignError with every problem's path."""
    if len(text) > MAX_SPEC:
        raise NotASignError([error("", f"is too large; keep it under {MAX_SPEC:,} characters")])
    try:
        must_be_one_object(text)
        return ADAPTER.validate_json(text)
    except ValidationError as failure:
        details = failure.errors(include_url=False)
        raise NotASignError([_problem(detail) for detail in details]) from failure
    except UnreadableError as failure:
        raise NotASignError([error("", str(failure))]) from failure
    except RecursionError as failure:
        raise NotASignError([error("", "is nested too deeply to be a sign")]) from failure


def _problem(detail: ErrorDetails) -> Problem:
    if detail["type"].startswith("union_tag"):
        return error("kind", f"must be one of {', '.join(KINDS)}")
    location = detail["loc"]
    if location[:1] and location[0] in KINDS:  # pydantic names the branch of the union it took
        location = location[1:]
    detail["loc"] = location
    return problem_of(detail)


def words_of(tried: Tried) -> str:
    """The sign in words; NotASignError where it cannot be had there."""
    try:
        return alternative(tried.spec, tried.technique)
    except SignError as refusal:
        raise NotASignError([error("", str(refusal))]) from refusal


def token_of(tried: Tried, *, owner: User) -> str:
    """The sign, signed for its owner; NotASignError where that is too long for an address."""
    value = {"spec": tried.parameters, "technique": dict(tried.technique)}
    token = signing.dumps(value, salt=_salt(owner), compress=True)
    if len(token) > MAX_TOKEN:
        problem = error("", "is too long to be heard here; try fewer lesions, zones or sounds")
        raise NotASignError([problem])
    return token


def tried_in(token: str, *, owner: User) -> Tried | None:
    """The sign of a token signed for this person within the hour; None for any other."""
    try:
        value = signing.loads(token, salt=_salt(owner), max_age=MAX_AGE)
        return Tried(ADAPTER.validate_python(value["spec"]), value["technique"])
    except (signing.BadSignature, ValidationError):  # a release may have narrowed a parameter
        return None


def _salt(owner: User) -> str:
    return f"{SALT}.{owner.pk}"
