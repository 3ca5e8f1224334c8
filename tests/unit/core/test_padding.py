"""Files padded to coarse sizes stay what they were; libsndfile is the judge of FLAC."""

from __future__ import annotations

import io

import numpy as np
import pytest
import soundfile
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.core.media.encode import as_int16, to_flac_bytes
from casebank.core.media.padding import padded_flac, padded_text

STEP = 65_536


def noise(seed, loudness):
    rng = np.random.default_rng(seed)
    return (loudness * rng.uniform(-1, 1, 8000)).astype(np.float32)


@settings(max_examples=25)
@given(st.integers(0, 1000), st.floats(0, 1))
def test_a_padded_flac_has_the_one_size_and_plays_the_same_samples(seed, loudness):
    samples = noise(seed, loudness)
    padded = padded_flac(to_flac_bytes(samples, 8000), STEP)
    assert len(padded) == STEP
    heard, rate = soundfile.read(io.BytesIO(padded), dtype="int16")
    assert rate == 8000
    np.testing.assert_array_equal(heard, as_int16(samples))


def test_padding_can_be_padded_again():
    once = padded_flac(to_flac_bytes(noise(1, 0.5), 8000), STEP)
    again = padded_flac(once, STEP)
    assert len(again) == 2 * STEP  # the block's own header no longer fits
    np.testing.assert_array_equal(
        soundfile.read(io.BytesIO(again))[0], soundfile.read(io.BytesIO(once))[0]
    )


def test_silence_and_noise_are_told_apart_by_size_without_padding_only():
    files = [to_flac_bytes(noise(2, loudness), 8000) for loudness in (0.0, 0.9)]
    assert len({len(file) for file in files}) == 2
    assert len({len(padded_flac(file, STEP)) for file in files}) == 1


def test_what_is_no_flac_is_refused():
    with pytest.raises(ValueError, match="fLaC"):
        padded_flac(b"RIFF....", STEP)


def test_a_step_longer_than_a_block_is_refused():
    with pytest.raises(ValueError, match="too long"):
        padded_flac(to_flac_bytes(noise(3, 0.1), 8000), 2**25)


@given(st.binary(max_size=300))
def test_text_is_padded_with_spaces_at_its_end(data):
    padded = padded_text(data, 64)
    assert len(padded) % 64 == 0
    assert padded[: len(data)] == data
    assert padded[len(data) :].strip() == b""
