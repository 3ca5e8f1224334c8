"""Whether numbers say where they come from: a publication's year, or that they are illustrative."""

from __future__ import annotations

import re

NO_SOURCE = "name author, journal and year, or say that it is illustrative"
_SOURCE = re.compile(r"\b(1[89]|20)\d\d\b|\billustrative\b", re.IGNORECASE)


def has_source(text: str) -> bool:
    """Whether this names a year of a publication, or says that the numbers are made up."""
    return bool(_SOURCE.search(text))
