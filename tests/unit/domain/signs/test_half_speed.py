"""Half speed by synthesis: everything between short sounds lasts twice as long, at its own pitch.

Measured by scipy on the rendered clips. A sound played at half its rate would have half of every
frequency and twice the length of every sound: each test here fails for it.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal

from casebank.domain.signs import parse, render
from tests.unit.domain.signs.measure import (
    RATE,
    banded,
    centroid,
    heart,
    loudness,
    murmur,
    r_peaks,
)

MAN = {"sex": "male", "rate": 60, "age": 75}
STILL = {"breathing": "held-expiration"}
LUNG = {"site": "back-lower-zone", "side": "left", "breathing": "deep"}


def pair(spec, **technique):
    """The sound as heard, and at half speed."""
    parsed = parse({"patient": MAN, **spec})
    return [render(parsed, technique, n).samples.astype(np.float64) for n in (1, 2)]


def lung(**added):
    zone = {"sites": ["back-lower-zone"], **({"added": [added]} if added else {})}
    return {"kind": "breath-sound", "noise_db": -80, "zones": [zone]}


SPECS = {
    "heart": heart(extras=[{"type": "third-sound"}], split="wide"),
    "rub": heart(extras=[{"type": "rub"}]),
    "murmur": murmur("mitral-regurgitation"),
    "lungs": lung(),
    "crackles": lung(type="fine-crackles"),
    "wheeze": lung(type="wheeze"),
    "stridor": lung(type="stridor"),
    "creaks": lung(type="rub"),
    "voice": {"kind": "breath-sound", "says": "spoken", "noise_db": -80},
    "whisper": {"kind": "breath-sound", "says": "whispered", "noise_db": -80},
}


@pytest.mark.parametrize("name", SPECS)
def test_it_lasts_twice_as_long_is_as_loud_and_joins_its_ends(name):
    usual, slow = pair(SPECS[name], **(LUNG if SPECS[name]["kind"] == "breath-sound" else {}))
    assert len(slow) == 2 * len(usual)
    assert np.abs(slow).max() <= 10 ** (-3 / 20)
    assert np.abs(slow).max() == pytest.approx(np.abs(usual).max(), rel=0.35)
    steps = np.abs(np.diff(slow))
    assert abs(slow[0] - slow[-1]) <= np.percentile(steps, 99.9)


@pytest.mark.parametrize("name", SPECS)
def test_the_pitch_is_kept(name):
    usual, slow = pair(SPECS[name], **(LUNG if SPECS[name]["kind"] == "breath-sound" else {}))
    # Short, low sounds fill half their share of the time, which moves the whole a little up; a
    # sound played at half its rate would lie at 0.5.
    assert centroid(slow, 20, 2000) == pytest.approx(centroid(usual, 20, 2000), rel=0.2)


def parts_of_beats(sound, stretch, seconds):
    """The mean envelope after each R, by the patient's clock."""
    starts = r_peaks(MAN, **STILL) * stretch
    envelope = loudness(sound, 90, 250)
    places = np.round(starts * RATE).astype(int)[:, None] + np.arange(int(seconds * RATE * stretch))
    return envelope[places % len(sound)].mean(axis=0)


def test_the_two_parts_of_the_second_sound_stand_twice_as_far_apart_and_are_no_longer():
    gaps, lengths = [], []
    for stretch, sound in enumerate(pair(heart(split="wide"), **STILL, site="pulmonary-area"), 1):
        part = parts_of_beats(sound, stretch, 0.6)[int(0.25 * RATE * stretch) :]
        tops, _ = signal.find_peaks(part, height=0.25 * part.max(), distance=int(0.02 * RATE))
        gaps.append(float(np.diff(tops[:2])[0]) / RATE)
        lengths.append(float(signal.peak_widths(part, tops[:1])[0][0]) / RATE)
    assert gaps[0] == pytest.approx(0.055, abs=0.010)
    assert gaps[1] == pytest.approx(2 * gaps[0], abs=0.012)
    assert lengths[1] < 1.3 * lengths[0]


def test_the_third_sound_comes_twice_as_late():
    late = []
    for stretch in (1, 2):
        bare = pair(heart(split="single"), **STILL)[stretch - 1]
        with_third = pair(heart(split="single", extras=[{"type": "third-sound"}]), **STILL)
        added = np.abs(signal.hilbert(with_third[stretch - 1] - bare))
        starts = np.round(r_peaks(MAN, **STILL) * stretch * RATE).astype(int)
        places = (starts[:, None] + np.arange(int(0.9 * RATE * stretch))) % len(added)
        late.append(int(added[places].mean(axis=0).argmax()) / RATE)
    # The transient's own rise to its top is not stretched, so a little less than twice.
    assert late[1] == pytest.approx(2 * late[0], abs=0.06)


def test_a_murmur_swells_in_the_same_share_of_twice_the_time():
    shares = []
    for stretch, sound in enumerate(pair(murmur("aortic-stenosis", severity="severe"), **STILL), 1):
        course = parts_of_beats(sound, stretch, 0.5)
        shares.append(float(course[int(0.15 * len(course)) :].argmax()) / len(course))
    assert shares[1] == pytest.approx(shares[0], abs=0.08)


def test_crackles_are_as_short_and_half_as_dense():
    counts = []
    for sound in pair(lung(type="fine-crackles"), **LUNG):
        high = np.abs(banded(sound, 400, 2000))
        tops, _ = signal.find_peaks(high, height=0.3 * high.max(), distance=int(0.02 * RATE))
        counts.append(len(tops) / (len(sound) / RATE))
    assert counts[1] == pytest.approx(counts[0] / 2, rel=0.25)


def test_the_breath_is_as_it_was_by_the_patients_clock():
    usual, slow = pair(lung(), **LUNG)
    course = [
        np.sqrt(np.mean(sound.reshape(60, -1) ** 2, axis=1)) for sound in (usual, slow)
    ]  # sixtieths of the loop
    assert np.corrcoef(*course)[0, 1] > 0.95


def test_several_places_take_turns_twice_as_slowly():
    spec = parse({"kind": "breath-sound"})
    usual, slow = (render(spec, {"site": "all-zones", "breathing": "deep"}, n) for n in (1, 2))
    assert [mark.label for mark in slow.marks] == [mark.label for mark in usual.marks]
    assert [mark.start for mark in slow.marks] == [2 * mark.start for mark in usual.marks]
    assert slow.seconds == pytest.approx(2 * usual.seconds)
