"""Samples to the bytes of a 16-bit mono file: WAV by the standard library, FLAC by libsndfile.

Owns encoding only. Both are lossless and give the same bytes for the same samples every time.
"""

from __future__ import annotations

import io
import wave

import numpy as np
from numpy.typing import NDArray

FULL_SCALE = 32767


def as_int16(samples: NDArray[np.float32]) -> NDArray[np.int16]:
    """Samples (n,) within -1..1 as 16-bit integers; ValueError for any outside or not finite."""
    if not np.all(np.isfinite(samples)) or (len(samples) and np.abs(samples).max() > 1):
        raise ValueError("samples must be finite and within -1..1; lower the gain first")
    return np.round(samples * FULL_SCALE).astype("<i2")


def to_wav_bytes(samples: NDArray[np.float32], rate: int) -> bytes:
    """The samples (n,) at ``rate`` Hz as a WAV file."""
    buffer = io.BytesIO()
    with wave.open(buffer, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(as_int16(samples).tobytes())
    return buffer.getvalue()


def to_flac_bytes(samples: NDArray[np.float32], rate: int) -> bytes:
    """The samples (n,) at ``rate`` Hz as a FLAC file."""
    import soundfile

    buffer = io.BytesIO()
    soundfile.write(buffer, as_int16(samples), rate, format="FLAC", subtype="PCM_16")
    return buffer.getvalue()
