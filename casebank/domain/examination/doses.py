"""Finds the words of a dose (*300 mg*, *15 L*, *stat*, *IV*): a step carries none.

Owns what counts as a dose. Whether a drug beside one is known well enough is ``doubts``'s.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from casebank.domain.examination.lexicon import DOSE_UNITS, DOSE_WORDS
from casebank.domain.examination.tokens import Token

_AMOUNT = re.compile(
    r"\d+(?:point\d+)?(?:mg|mcg|ug|g|kg|ml|mls|l|iu|u|units?|mmol|litres?|puffs?|nebs?|hourly)?$"
)


def dose_places(tokens: Sequence[Token]) -> frozenset[int]:
    """Places of amounts, their units, and the words for route and rate."""
    return frozenset(place for place, token in enumerate(tokens) if is_of_dose(token.key))


def reason_places(tokens: Sequence[Token], content: Sequence[int]) -> frozenset[int]:
    """Places of what a treatment or test is for, among ``content``: *aspirin for the NSTEMI*."""
    if not content:
        return frozenset()
    start = next((p for p in range(content[0], len(tokens)) if tokens[p].key == "for"), None)
    if start is None:
        return frozenset()
    segment = tokens[start].segment
    return frozenset(p for p in content if p > start and tokens[p].segment == segment)


def is_of_dose(key: str) -> bool:
    """Whether a word belongs to a dose and to nothing else where a drug is given."""
    return key in DOSE_UNITS or key in DOSE_WORDS or _AMOUNT.match(key) is not None
