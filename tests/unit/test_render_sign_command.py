"""``manage.py render_sign``: files of each kind, the same every time; without a database."""

from __future__ import annotations

import io
import json
import wave
from pathlib import Path

import numpy as np
import pytest
import soundfile
from django.core.management import CommandError, call_command

SIGNS = Path(__file__).parents[2] / "fixtures" / "signs"
HEART, PICTURE = SIGNS / "heart-02.json", SIGNS / "picture-01.json"


def run(spec, out, *options):
    said = io.StringIO()
    call_command("render_sign", str(spec), str(out), *options, stdout=said)
    return said.getvalue()


@pytest.mark.parametrize("suffix", ["wav", "flac", "svg"])
def test_the_same_specification_gives_the_same_bytes(tmp_path, suffix):
    first, second = tmp_path / f"a.{suffix}", tmp_path / f"b.{suffix}"
    run(HEART, first)
    run(HEART, second)
    assert first.read_bytes() == second.read_bytes()


def test_wav_and_flac_hold_the_same_15_seconds(tmp_path):
    run(HEART, tmp_path / "a.wav")
    run(HEART, tmp_path / "a.flac")
    with wave.open(str(tmp_path / "a.wav")) as file:
        samples = np.frombuffer(file.readframes(file.getnframes()), "<i2")
    read, rate = soundfile.read(tmp_path / "a.flac", dtype="int16")
    assert len(read) == 15 * rate
    assert np.array_equal(read, samples)


def test_half_speed_lasts_30_seconds_and_may_be_raised_too(tmp_path):
    run(HEART, tmp_path / "a.wav", "--half-speed")
    run(HEART, tmp_path / "b.wav", "--half-speed", "--pitch-raised")
    slow, both = (soundfile.read(tmp_path / f"{name}.wav")[0] for name in "ab")
    assert len(slow) == len(both) == 30 * 8000
    assert not np.array_equal(slow, both)


def test_another_seed_gives_another_sound(tmp_path):
    document = json.loads(HEART.read_text())
    document["spec"]["patient"]["seed"] += 1
    other = tmp_path / "other.json"
    other.write_text(json.dumps(document))
    run(HEART, tmp_path / "a.wav")
    run(other, tmp_path / "b.wav")
    assert (tmp_path / "a.wav").read_bytes() != (tmp_path / "b.wav").read_bytes()


def test_a_bare_specification_takes_its_technique_from_the_options(tmp_path):
    bare = tmp_path / "bare.json"
    bare.write_text(json.dumps(json.loads(HEART.read_text())["spec"]))
    run(bare, tmp_path / "a.wav", "--technique", "site=apex")
    run(bare, tmp_path / "b.wav", "--technique", "site=carotid")
    assert (tmp_path / "a.wav").read_bytes() != (tmp_path / "b.wav").read_bytes()


def test_words_are_printed_when_asked_for(tmp_path):
    said = run(HEART, tmp_path / "a.svg", "--words")
    assert "beats a minute" in said


@pytest.mark.parametrize(
    ("spec", "name", "message"),
    [
        (HEART, "a.mp3", "end the name in .wav, .flac or .svg"),
        (PICTURE, "a.wav", "makes no sound"),
        (SIGNS / "none.json", "a.wav", "cannot be read"),
    ],
)
def test_what_cannot_be_done_is_said(tmp_path, spec, name, message):
    with pytest.raises(CommandError, match=message):
        run(spec, tmp_path / name)


@pytest.mark.parametrize(
    ("text", "message"),
    [("{", "is not JSON"), ('{"kind": "smell"}', "smell"), ("[]", "document|dict|kind")],
)
def test_a_wrong_specification_is_refused(tmp_path, text, message):
    file = tmp_path / "wrong.json"
    file.write_text(text)
    with pytest.raises(CommandError, match=message):
        run(file, tmp_path / "a.wav")
    assert not (tmp_path / "a.wav").exists()
