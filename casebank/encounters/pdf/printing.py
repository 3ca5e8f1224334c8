"""Sets a debrief as a tagged PDF with typst, in this process and without a network.

What people wrote goes in as JSON data and comes out as text: none of it is ever source. The same
data give the same bytes, because only the fonts that typst carries are used and no time is stamped.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import typst

from casebank.encounters.models import Encounter
from casebank.encounters.pdf.content import Content, content_of

TEMPLATE = Path(__file__).with_name("debrief.typ")


def pdf_of(encounter: Encounter) -> bytes:
    """The debrief of a concluded encounter."""
    return printed(content_of(encounter))


def printed(content: Content) -> bytes:
    """The document of this content."""
    data = json.dumps(content, ensure_ascii=False, sort_keys=True, allow_nan=False)
    compiler = typst.Compiler(_source(), ignore_system_fonts=True, sys_inputs={"data": data})
    made = compiler.compile(format="pdf", pdf_standards="ua-1", timestamp=0)
    if not isinstance(made, bytes):
        raise TypeError("typst gave no single document: check the template.")
    return made


@cache
def _source() -> bytes:
    return TEMPLATE.read_bytes()
