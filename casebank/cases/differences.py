"""What differs between two raw documents, place by place."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from casebank.domain.casefile.checks.shape import path_of

NOTHING = "(nothing)"


@dataclass(frozen=True)
class Difference:
    """One place with what stands now and what was typed."""

    path: str
    stands: str
    typed: str


def differences(stands: Any, typed: Any, path: tuple[int | str, ...] = ()) -> Iterator[Difference]:
    """Every leaf that differs, in the order of the documents."""
    if isinstance(stands, dict) and isinstance(typed, dict):
        for name in dict.fromkeys([*stands, *typed]):
            yield from differences(stands.get(name), typed.get(name), (*path, name))
    elif isinstance(stands, list) and isinstance(typed, list):
        for place in range(max(len(stands), len(typed))):
            yield from differences(_at(stands, place), _at(typed, place), (*path, place))
    elif stands != typed:
        yield Difference(path_of(path), _words(stands), _words(typed))


def _at(items: list[Any], place: int) -> Any:
    return items[place] if place < len(items) else None


def _words(value: Any) -> str:
    if value is None:
        return NOTHING
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
