"""Renders signs into files, kept by what they are made of.

Every file of one ending has the same length and, up to steps too coarse to tell, the same size.
Who may have a file is the caller's.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import ceil
from typing import Any

from django.conf import settings

from casebank.core.media.encode import to_flac_bytes, to_wav_bytes
from casebank.core.media.padding import padded_flac, padded_text
from casebank.core.media.shelf import Shelf
from casebank.domain.signs import AnySpec, drawing, parse, pitch_raised, render, seconds_of
from casebank.domain.signs.signal import LENGTH

MODEL_VERSION = 2
"""Raise it when a renderer changes, so that nobody is served what an older one made."""
FLAC_STEP = 196_608
"""For each loop of sound: above the largest that the loudest and noisiest spec gave (185 kB)."""
SVG_STEP = 131_072
"""For each loop: above twelve leads (113 kB), and twice the busiest trace of a sound (62 kB)."""
SOUND_ENDINGS = ("flac", "wav")
TYPES = {"flac": "audio/flac", "wav": "audio/wav", "svg": "image/svg+xml"}

SLOW = 2
"""How many times longer a slow rendition lasts."""

Parameters = Mapping[str, Any]


@dataclass(frozen=True)
class Rendition:
    """How a sound is given: as heard, or changed in a way that the page must say.

    ``is_raised``: its pitch is raised. ``is_slow``: it is made anew at half speed, pitch kept.
    """

    is_raised: bool = False
    is_slow: bool = False

    @property
    def names(self) -> tuple[str, ...]:
        """What is changed; empty for the sound as heard."""
        return (*(("raised",) if self.is_raised else ()), *(("slow",) if self.is_slow else ()))

    @classmethod
    def of(cls, names: Iterable[str]) -> Rendition:
        """The rendition of these names; ValueError for one that is not known."""
        known = tuple(names)
        made = cls("raised" in known, "slow" in known)
        if made.names != known:
            raise ValueError(f"{known} is no rendition; give raised, slow, both in this order.")
        return made


AS_HEARD = Rendition()
RENDITIONS = (AS_HEARD, Rendition(True), Rendition(False, True), Rendition(True, True))


def sign_file(
    spec: Parameters, technique: Mapping[str, str], ending: str, rendition: Rendition = AS_HEARD
) -> bytes:
    """The file of this sign under this technique; SignError where it cannot be rendered."""
    name = key_of(spec, technique, ending, rendition)
    return shelf().get(name, lambda: _made(spec, technique, ending, rendition))


def key_of(
    spec: Parameters, technique: Mapping[str, str], ending: str, rendition: Rendition = AS_HEARD
) -> str:
    """SHA-256 of everything that decides the file, with its ending."""
    parts = [MODEL_VERSION, spec, sorted(technique.items()), *rendition.names]
    text = json.dumps(parts, sort_keys=True, separators=(",", ":"))
    return f"{hashlib.sha256(text.encode()).hexdigest()}.{ending}"


def shelf() -> Shelf:
    """Where files are kept."""
    return Shelf(settings.MEDIA_SHELF, settings.MEDIA_SHELF_BYTES)


def _made(
    spec: Parameters, technique: Mapping[str, str], ending: str, rendition: Rendition
) -> bytes:
    parsed = parse(dict(spec))
    if ending in SOUND_ENDINGS:
        return _sound(parsed, technique, ending, rendition)
    step = SVG_STEP * ceil(seconds_of(parsed, technique) / LENGTH)
    return padded_text(drawing(parsed, technique).encode(), step)


def _sound(spec: AnySpec, technique: Mapping[str, str], ending: str, rendition: Rendition) -> bytes:
    shown = render(spec, technique, SLOW if rendition.is_slow else 1)
    samples = pitch_raised(shown.samples) if rendition.is_raised else shown.samples
    if ending == "wav":
        return to_wav_bytes(samples, shown.rate)
    return padded_flac(to_flac_bytes(samples, shown.rate), FLAC_STEP * ceil(shown.seconds / LENGTH))
