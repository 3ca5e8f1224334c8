"""Signs as perceived: sounds, curves and pictures made from parameters; pure and deterministic.

``parse`` reads a specification, ``render`` makes the sign under a technique, ``drawing`` gives it
as SVG, ``alternative`` in words, ``pitch_raised`` as a sound for ears that miss the low ones.
Encoding to files is not done here.
"""

from __future__ import annotations

from casebank.domain.signs.pitch import pitch_raised
from casebank.domain.signs.render import AnySpec, alternative, drawing, parse, render, seconds_of
from casebank.domain.signs.rendered import Channel, Mark, Rendered
from casebank.domain.signs.setting import SignError, Technique

__all__ = [
    "AnySpec",
    "Channel",
    "Mark",
    "Rendered",
    "SignError",
    "Technique",
    "alternative",
    "drawing",
    "parse",
    "pitch_raised",
    "render",
    "seconds_of",
]
