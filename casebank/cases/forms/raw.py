"""Loose values of a raw draft: as a field shows them, and as typed text becomes them.

What cannot be understood stays as it was typed; the case check then says what to correct.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import Any

from django.utils.text import slugify

Raw = dict[str, Any]
_NUMBER = re.compile(r"-?\d{1,9}([.,]\d{1,20})?")
_BETWEEN = re.compile(r"\s*(?:\bto\b|–|-)\s*")


def part(document: Raw, name: str) -> Raw:
    """The object of that name; an empty one where there is none."""
    found = document.get(name)
    return found if isinstance(found, dict) else {}


def rows(document: Raw, name: str) -> list[Raw]:
    """The list of objects of that name; an empty one where there is none."""
    found = document.get(name)
    return [row for row in found if isinstance(row, dict)] if isinstance(found, list) else []


def words(document: Raw, name: str) -> list[str]:
    """The list of texts of that name."""
    found = document.get(name)
    return [shown(item) for item in found] if isinstance(found, list) else []


def shown(value: Any) -> str:
    """A value as a text field shows it."""
    if value is None:
        return ""
    if isinstance(value, float):
        return _plain(Decimal(repr(value)))
    return str(value)


def number(text: str) -> int | float | str | None:
    """A number where one was typed (a decimal comma is one); None where nothing was."""
    plain = text.strip()
    if not _NUMBER.fullmatch(plain):
        return plain or None
    value = float(plain.replace(",", "."))
    return int(value) if value.is_integer() else value


def percent_shown(value: Any) -> str:
    """A probability as percent; anything else as it stands."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return _plain(Decimal(repr(value)) * 100)
    return shown(value)


def percent(text: str) -> float | str | None:
    """The probability that was typed in percent, with or without its sign."""
    plain = text.strip().removesuffix("%").strip()
    if not _NUMBER.fullmatch(plain):
        return plain or None
    return float(Decimal(plain.replace(",", ".")) / 100)


def span_shown(value: Any, one: Callable[[Any], str] = shown) -> str:
    """An interval as "low to high"; anything else as it stands."""
    return " to ".join(map(one, value)) if isinstance(value, list) else shown(value)


def span(text: str, one: Callable[[str], Any] = number) -> list[Any]:
    """The ends that were typed, as "4 to 11.5" or "4-11.5"; what is no number stays as typed."""
    ends = (one(end) for end in _BETWEEN.split(text.strip()))
    return [end for end in ends if end is not None]


def _plain(value: Decimal) -> str:
    """All digits, no exponent, no trailing noughts after the point."""
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def lines(text: str) -> list[str]:
    """One entry a line; empty lines are left out."""
    return [line.strip() for line in text.splitlines() if line.strip()]


def paragraphs(text: str) -> list[str]:
    """One entry a paragraph, parted by empty lines."""
    found = re.split(r"\n[ \t]*\n", text.replace("\r\n", "\n"))
    return [entry.strip() for entry in found if entry.strip()]


def filled(**values: Any) -> Raw:
    """Only what was given: no None, no empty text, list or object."""
    return {name: value for name, value in values.items() if value not in (None, "", [], {})}


def new_slug(text: str, taken: Iterable[str], otherwise: str) -> str:
    """A slug made of the text that is not taken yet."""
    stem = slugify(text)[:56].strip("-") or otherwise
    known = set(taken)
    candidates = [stem, *(f"{stem}-{place}" for place in range(2, len(known) + 3))]
    return next(name for name in candidates if name not in known)
