"""Between a specification as plain data and the controls of its form, both ways.

What a form cannot show stays in the data as it was; what cannot be understood stays as typed, and
the specification then refuses it. Owns the names of the controls.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from typing import Any

from django.forms import BoundField
from django.http import QueryDict

from casebank.cases.forms.raw import Raw, part, words
from casebank.cases.forms.sign_shape import Leaf, Part, Rows
from casebank.cases.forms.sign_words import ABOUT, NOUNS, TITLES, plain, text_of

ROOT = "of"
"""Every control is named by its path: ``of-zones-0-added-1-type``."""
Data = Mapping[str, Any]
Typed = str | list[str]


@dataclass
class Piece:
    """A part as shown: its controls with what they hold, its groups and lists."""

    name: str
    title: str
    holds: dict[str, tuple[Leaf, Typed]]
    groups: list[Piece]
    lists: list[PieceList]
    unshown: list[str]
    fields: list[BoundField] = field(default_factory=list)

    def every(self) -> Iterator[Piece]:
        """This piece and all within it."""
        yield self
        for one in [*self.groups, *(row for rows in self.lists for row in rows.rows)]:
            yield from one.every()


@dataclass
class PieceList:
    """A list as shown; ``noun`` is one row with its article, ``within`` where it belongs."""

    name: str
    key: str
    noun: str
    within: str
    rows: list[Piece]
    most: int

    @property
    def about(self) -> str:
        """What the list is for."""
        return ABOUT[self.key][1] if self.key in ABOUT else ""

    @property
    def title(self) -> str:
        """What the whole list is called."""
        return ABOUT[self.key][0] if self.key in ABOUT else plain(self.key)

    @property
    def is_full(self) -> bool:
        """Whether no row can be added."""
        return len(self.rows) >= self.most


def pieces(shape: Part, spec: Raw, name: str = ROOT, title: str = "") -> Piece:
    """The specification as its form shows it."""
    return Piece(
        name,
        title or TITLES[shape.name],
        {f"{name}-{leaf.key}": (leaf, held(leaf, spec.get(leaf.key))) for leaf in shape.leaves},
        [pieces(one.of, part(spec, one.key), f"{name}-{one.key}") for one in shape.groups],
        [_list(rows, spec, name, title) for rows in shape.lists if is_shown(spec, rows)],
        [rows.key for rows in shape.lists if not is_shown(spec, rows)],
    )


def _list(rows: Rows, spec: Raw, name: str, within: str) -> PieceList:
    noun = NOUNS[rows.of.name]
    bare, stem = noun.split(" ", 1)[1].capitalize(), f"{name}-{rows.key}"
    of = f" of {within[:1].lower()}{within[1:]}" if within else ""
    made = [
        pieces(rows.of, row, f"{stem}-{place}", f"{bare} {place + 1}{of}")
        for place, row in enumerate(spec.get(rows.key) or ())
    ]
    return PieceList(stem, rows.key, noun, within.lower(), made, rows.most)


def is_shown(spec: Raw, rows: Rows) -> bool:
    """Whether a form can show the list: it is one, and of objects."""
    found = spec.get(rows.key)
    return found is None or (
        isinstance(found, list) and all(isinstance(one, dict) for one in found)
    )


def held(leaf: Leaf, value: Any) -> Typed:
    """What the control of a field holds for this value."""
    if leaf.shape == "ticks":
        return list(dict.fromkeys(words({"": value}, "")))
    return text_of(value)


def controls(piece: Piece) -> dict[str, Typed]:
    """Every control of the form with what it holds."""
    return {name: value for one in piece.every() for name, (_, value) in one.holds.items()}


def typed_over(spec: Raw, shape: Part, data: Data, name: str = ROOT) -> Raw:
    """The specification with what was typed over it, as the form of ``spec`` sent it."""
    found = dict(spec)
    for leaf in shape.leaves:
        _put(found, leaf, _sent(data, f"{name}-{leaf.key}", leaf))
    for one in shape.groups:
        stands = spec.get(one.key)
        if stands is None or isinstance(stands, dict):
            within = typed_over(stands or {}, one.of, data, f"{name}-{one.key}")
            found[one.key] = within
            if not within and stands != {}:
                del found[one.key]
    for rows in shape.lists:
        if spec.get(rows.key) and is_shown(spec, rows):
            found[rows.key] = [
                typed_over(row, rows.of, data, f"{name}-{rows.key}-{place}")
                for place, row in enumerate(spec[rows.key])
            ]
    return found


def _sent(data: Data, name: str, leaf: Leaf) -> Typed:
    if leaf.shape != "ticks":
        return str(data.get(name, "")).replace("\0", "")
    return data.getlist(name) if isinstance(data, QueryDict) else list(data.get(name, ()))


def _put(spec: Raw, leaf: Leaf, typed: Typed) -> None:
    before = held(leaf, spec.get(leaf.key))
    if typed == before or (isinstance(typed, list) and set(typed) == set(before)):
        return  # as it was, to the last digit and in its order
    value = typed if isinstance(typed, list) else understood(leaf, typed.strip())
    if value in ("", []) and not (leaf.is_required and leaf.shape == "ticks"):
        spec.pop(leaf.key, None)
    else:
        spec[leaf.key] = value


def understood(leaf: Leaf, text: str) -> Any:
    """The value that was typed; the text where it is none."""
    if leaf.shape == "truth":
        return {"true": True, "false": False}.get(text, text)
    return number(text) if leaf.shape in ("number", "whole") else text


def number(text: str) -> int | float | str:
    """A finite number, a decimal comma allowed; any other text as it is."""
    try:
        value = float(Decimal(text.replace(",", ".").replace("−", "-")))
    except (InvalidOperation, OverflowError, ValueError):
        return text
    if not math.isfinite(value) or len(text) > 40:
        return text
    return int(value) if value.is_integer() and abs(value) < 2**53 else value
