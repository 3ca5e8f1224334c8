"""The files of what was heard or seen in an encounter, from ``core.media.sign_files``."""

from __future__ import annotations

from collections.abc import Mapping

from casebank.core.media.sign_files import (
    AS_HEARD,
    MODEL_VERSION,
    RENDITIONS,
    SOUND_ENDINGS,
    Rendition,
    sign_file,
)
from casebank.domain.encounter.perceive import Medium

__all__ = [
    "AS_HEARD",
    "MODEL_VERSION",
    "RENDITIONS",
    "SOUND_ENDINGS",
    "Rendition",
    "clip",
    "endings_of",
]


def endings_of(medium: Medium, rendition: Rendition = AS_HEARD) -> tuple[str, ...]:
    """The endings a medium can be had with: a sound has a trace, but only as it is heard."""
    sounds = SOUND_ENDINGS if medium.kind == "sound" else ()
    return (*sounds, "svg") if rendition == AS_HEARD else sounds


def clip(
    medium: Medium, technique: Mapping[str, str], ending: str, rendition: Rendition = AS_HEARD
) -> bytes:
    """The file of this medium under this technique; SignError where it cannot be rendered."""
    return sign_file(medium.spec, technique, ending, rendition)
