"""Which function does which kind of job; slices register theirs in their ``tasks.py``."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any
from uuid import UUID

from django.utils.module_loading import autodiscover_modules

from casebank.core.jobs.errors import UnknownKindError
from casebank.core.jobs.progress import Progress


@dataclass(frozen=True)
class JobContext:
    """What a job's function is given; ``owner_id`` is None for work nobody asked for."""

    job_id: UUID
    owner_id: int | None
    arguments: Mapping[str, Any]
    attempt: int
    progress: Progress


JobFunction = Callable[[JobContext], dict[str, Any] | None]
_functions: dict[str, JobFunction] = {}


def job(kind: str) -> Callable[[JobFunction], JobFunction]:
    """Register the function below for ``kind``; it returns a JSON result or None.

    It may run more than once (a worker can die after the work): it must be idempotent.
    """

    def register(function: JobFunction) -> JobFunction:
        if kind in _functions and _functions[kind] is not function:
            raise ValueError(f"Two functions claim the kind {kind!r}: rename one.")
        _functions[kind] = function
        return function

    return register


def function_for(kind: str) -> JobFunction:
    """The function of ``kind``; raises UnknownKindError naming the kinds there are."""
    _discover()
    try:
        return _functions[kind]
    except KeyError:
        known = ", ".join(sorted(_functions)) or "none"
        raise UnknownKindError(f"No job of the kind {kind!r}; known: {known}.") from None


@cache
def _discover() -> None:
    autodiscover_modules("tasks")
