"""Reads what a student says a perceived sign is, by the catalogue's vocabulary, or asks back.

Nothing here knows what the sign is: the same words read the same whatever was heard.
"""

from __future__ import annotations

from casebank.domain.casefile.checks.signs import families_of
from casebank.domain.encounter.model import Reading
from casebank.domain.encounter.naming import LONGEST_READING
from casebank.domain.encounter.perceive import Medium
from casebank.domain.examination.model import Catalogue
from casebank.domain.examination.readings import SignReader
from casebank.encounters.reading import AskedBack, Choice

_readers: dict[str, SignReader] = {}


def reader_for(catalogue: Catalogue) -> SignReader:
    """The reader of a catalogue's names of signs; built once per process and release."""
    if catalogue.checksum not in _readers:
        _readers[catalogue.checksum] = SignReader(catalogue.vocabulary)
    return _readers[catalogue.checksum]


def named(text: str, catalogue: Catalogue, medium: Medium, entry: int, index: int) -> Reading:
    """The reading that the words give of that medium; AskedBack where they give none, or several.

    ``medium`` only says which family of names can be meant: hearts, lungs, pulses, pictures.
    """
    if not text.strip():
        raise AskedBack("Say what it is, in your own words.")
    if len(text) > LONGEST_READING:
        raise AskedBack(f"Keep a reading under {LONGEST_READING} characters.")
    found = reader_for(catalogue).read(text, families_of(medium.spec))
    if found.choices:
        choices = tuple(Choice(choice, choice) for choice in found.choices)
        raise AskedBack("Which of these do you mean?", choices, found.unused)
    if not found.stated:
        raise AskedBack(_not_understood(found.unused), (), found.unused)
    return Reading(
        entry=entry,
        medium=index,
        text=text,
        stated=tuple({f: tuple(v) for f, v in one.features.items()} for one in found.stated),
        unused=found.unused,
    )


def _not_understood(unused: tuple[str, ...]) -> str:
    words = ", ".join(f"“{word}”" for word in unused)
    start = f"Not understood: {words}. " if words else "That names no sign. "
    return start + "Say the sign by its name, or what it is like: when, where, how loud."
