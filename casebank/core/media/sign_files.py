"""Renders signs into files, kept by what they are made of.

Every file of one ending has the same length and, up to steps too coarse to tell, the same size.
Who may have a file is the caller's.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from math import ceil
from typing import Any

from django.conf import settings

from casebank.core.media.encode import to_flac_bytes, to_wav_bytes
from casebank.core.media.padding import padded_flac, padded_text
from casebank.core.media.shelf import Shelf
from casebank.domain.signs import AnySpec, drawing, parse, pitch_raised, render
from casebank.domain.signs.signal import LENGTH

MODEL_VERSION = 1
"""Raise it when a renderer changes, so that nobody is served what an older one made."""
FLAC_STEP = 196_608
"""For each loop of sound: above the largest that the loudest and noisiest spec gave (185 kB)."""
SVG_STEP = 65_536
SOUND_ENDINGS = ("flac", "wav")
TYPES = {"flac": "audio/flac", "wav": "audio/wav", "svg": "image/svg+xml"}

Parameters = Mapping[str, Any]


def sign_file(
    spec: Parameters, technique: Mapping[str, str], ending: str, *, is_raised: bool = False
) -> bytes:
    """The file of this sign under this technique; SignError where it cannot be rendered.

    ``is_raised``: a sound with its pitch raised, which the page must call so.
    """
    name = key_of(spec, technique, ending, is_raised=is_raised)
    return shelf().get(name, lambda: _made(spec, technique, ending, is_raised))


def key_of(
    spec: Parameters, technique: Mapping[str, str], ending: str, *, is_raised: bool = False
) -> str:
    """SHA-256 of everything that decides the file, with its ending."""
    parts = [MODEL_VERSION, spec, sorted(technique.items()), *(["raised"] if is_raised else [])]
    text = json.dumps(parts, sort_keys=True, separators=(",", ":"))
    return f"{hashlib.sha256(text.encode()).hexdigest()}.{ending}"


def shelf() -> Shelf:
    """Where files are kept."""
    return Shelf(settings.MEDIA_SHELF, settings.MEDIA_SHELF_BYTES)


def _made(spec: Parameters, technique: Mapping[str, str], ending: str, is_raised: bool) -> bytes:
    parsed = parse(dict(spec))
    if ending in SOUND_ENDINGS:
        return _sound(parsed, technique, ending, is_raised)
    return padded_text(drawing(parsed, technique).encode(), SVG_STEP)


def _sound(spec: AnySpec, technique: Mapping[str, str], ending: str, is_raised: bool) -> bytes:
    shown = render(spec, technique)
    samples = pitch_raised(shown.samples) if is_raised else shown.samples
    if ending == "wav":
        return to_wav_bytes(samples, shown.rate)
    return padded_flac(to_flac_bytes(samples, shown.rate), FLAC_STEP * ceil(shown.seconds / LENGTH))
