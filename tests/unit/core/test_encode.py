"""Sound files: lossless, the same every time, and refused where samples are wrong."""

from __future__ import annotations

import io
import wave

import numpy as np
import pytest
import soundfile
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from casebank.core.media.encode import as_int16, to_flac_bytes, to_wav_bytes

SAMPLES = np.sin(np.arange(8000) / 9).astype(np.float32) * 0.5
sounds = arrays.arrays(
    np.float32, st.integers(1, 400), elements=st.floats(-1, 1, width=32, allow_nan=False)
)


@given(sounds)
def test_wav_reads_back_to_the_sample(samples):
    with wave.open(io.BytesIO(to_wav_bytes(samples, 8000))) as file:
        assert (file.getframerate(), file.getnchannels(), file.getsampwidth()) == (8000, 1, 2)
        read = np.frombuffer(file.readframes(file.getnframes()), "<i2")
    assert np.array_equal(read, as_int16(samples))


@given(sounds)
def test_flac_reads_back_to_the_sample(samples):
    read, rate = soundfile.read(io.BytesIO(to_flac_bytes(samples, 8000)), dtype="int16")
    assert rate == 8000
    assert np.array_equal(read, as_int16(samples))


@pytest.mark.parametrize("encode", [to_wav_bytes, to_flac_bytes])
def test_the_same_samples_give_the_same_bytes(encode):
    assert encode(SAMPLES, 8000) == encode(SAMPLES.copy(), 8000)


@pytest.mark.parametrize("wrong", [1.2, -1.5, np.nan, np.inf])
def test_samples_out_of_range_are_refused(wrong):
    with pytest.raises(ValueError, match=r"within -1..1"):
        as_int16(np.array([0.0, wrong], dtype=np.float32))
