"""What a kind of sign is made of, as a form sees it: read from the specification's JSON schema.

Owns which fields, groups and lists there are, with their limits. Words are ``sign_words``'s.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from pydantic import BaseModel

from casebank.cases.forms.raw import Raw
from casebank.domain.signs.breath.listen import SITES as LUNG_SITES
from casebank.domain.signs.breath.listen import ZONES
from casebank.domain.signs.heart.manoeuvres import TABLE
from casebank.domain.signs.setting import HELD
from casebank.domain.signs.spec import (
    ArterialPulse,
    BreathSound,
    HeartSound,
    RhythmStrip,
    VenousWave,
)
from casebank.domain.signs.spec_pictures import Picture

Shape = Literal["number", "whole", "choice", "truth", "ticks"]
MODELS: dict[str, type[BaseModel]] = {
    "heart-sound": HeartSound,
    "breath-sound": BreathSound,
    "arterial-pulse": ArterialPulse,
    "venous-wave": VenousWave,
    "rhythm-strip": RhythmStrip,
    "picture": Picture,
}
OPEN: dict[str, tuple[str, ...]] = {
    "BreathSound.site": tuple(site for site in LUNG_SITES if site != "all-zones"),
    "Zone.sites": (*ZONES, "trachea"),
    "Lesion.unmoved": tuple(dict.fromkeys((*TABLE, *HELD, "deep", "quiet"))),
}
"""What is offered where the specification takes any name; other names that stand are kept."""


@dataclass(frozen=True)
class Leaf:
    """One field: of which part, its shape and limits; ``usual`` holds where nothing is set."""

    owner: str
    key: str
    shape: Shape
    options: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None
    usual: Any = None
    is_required: bool = False

    @property
    def path(self) -> str:
        """The part and the field, such as ``Patient.rate``."""
        return f"{self.owner}.{self.key}"


@dataclass(frozen=True)
class Part:
    """An object of the specification: its fields, its groups and its lists of further parts."""

    name: str
    leaves: tuple[Leaf, ...]
    groups: tuple[Group, ...]
    lists: tuple[Rows, ...]


@dataclass(frozen=True)
class Group:
    """A part that is always there."""

    key: str
    of: Part


@dataclass(frozen=True)
class Rows:
    """A list of parts, ``most`` of them at the most."""

    key: str
    of: Part
    most: int


@cache
def part_of(kind: str) -> Part:
    """The outermost part of this kind; KeyError for an unknown one."""
    schema = MODELS[kind].model_json_schema()
    return _part(schema, schema.get("$defs", {}))


def every_leaf(part: Part) -> Iterator[Leaf]:
    """All fields of a part and of the parts within it."""
    yield from part.leaves
    for of in (*(one.of for one in part.groups), *(one.of for one in part.lists)):
        yield from every_leaf(of)


def _part(schema: Raw, defs: Raw) -> Part:
    name, wanted = schema["title"], schema.get("required", [])
    leaves: list[Leaf] = []
    groups: list[Group] = []
    lists: list[Rows] = []
    for key, given in schema["properties"].items():
        found = _resolved(given, defs)
        items = _resolved(found.get("items", {}), defs)
        if found.get("type") == "object":
            groups.append(Group(key, _part(found, defs)))
        elif items.get("type") == "object":
            lists.append(Rows(key, _part(items, defs), found.get("maxItems", 99)))
        elif leaf := _leaf(f"{name}.{key}", found, items, is_required=key in wanted):
            leaves.append(leaf)
    return Part(name, tuple(leaves), tuple(groups), tuple(lists))


def _resolved(schema: Raw, defs: Raw) -> Raw:
    """Without the reference, and without the null that an optional value may be."""
    if "$ref" in schema:
        return {**schema, **defs[schema["$ref"].rsplit("/", 1)[-1]]}
    real = [one for one in schema.get("anyOf", []) if one.get("type") != "null"]
    return {**schema, **_resolved(real[0], defs)} if len(real) == 1 else schema


def _leaf(path: str, schema: Raw, items: Raw, *, is_required: bool) -> Leaf | None:
    """The field, or None for what a form cannot show: it stays as it is, set as JSON."""
    options = tuple(schema.get("enum") or items.get("enum") or OPEN.get(path, ()))
    shape = _shape(schema, options)
    if shape is None:
        return None
    owner, key = path.split(".")
    limits = {"low": schema.get("minimum"), "high": schema.get("maximum")}
    usual = schema.get("default")
    return Leaf(owner, key, shape, options, **limits, usual=usual, is_required=is_required)


def _shape(schema: Raw, options: tuple[str, ...]) -> Shape | None:
    simple: dict[str, Shape] = {"number": "number", "integer": "whole", "boolean": "truth"}
    kind = schema.get("type", "")
    if kind in simple:
        return simple[kind]
    if not options or "const" in schema:
        return None
    return "ticks" if kind == "array" else "choice"
