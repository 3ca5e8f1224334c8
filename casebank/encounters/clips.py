"""The files of what was heard or seen in an encounter, from ``core.media.sign_files``."""

from __future__ import annotations

from collections.abc import Mapping

from casebank.core.media.sign_files import MODEL_VERSION, sign_file
from casebank.domain.encounter.perceive import Medium

__all__ = ["MODEL_VERSION", "clip", "endings_of"]


def endings_of(medium: Medium) -> tuple[str, ...]:
    """The endings a medium can be had with: a sound also has a trace."""
    return ("flac", "wav", "svg") if medium.kind == "sound" else ("svg",)


def clip(medium: Medium, technique: Mapping[str, str], ending: str) -> bytes:
    """The file of this medium under this technique; SignError where it cannot be rendered."""
    return sign_file(medium.spec, technique, ending)
