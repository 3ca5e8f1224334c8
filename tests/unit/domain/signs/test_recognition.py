"""Whether the signs can be told apart by a plain classifier, and only with the right technique.

Held-out seeds, one place and chest piece for all classes (a class's own best place would give it
away), hearing thresholds and 1 dB of jitter added. It shows that the classes are consistent; it
does not show that they are lifelike.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from scipy import signal
from sklearn.linear_model import LogisticRegression
from sklearn.pipeline import make_pipeline
from sklearn.preprocessing import StandardScaler

from casebank.domain.signs import parse, render
from tests.unit.domain.signs.measure import r_peaks

CLASSES = (
    None, "aortic-stenosis", "mitral-regurgitation", "aortic-regurgitation", "mitral-stenosis",
    "patent-duct",
)  # fmt: skip
TRAIN, TEST = range(100, 108), range(500, 506)
BANDS = ((20, 70), (70, 160), (160, 320), (320, 700))
THRESHOLDS_DB = np.array([50.0, 28.0, 14.0, 7.0])  # ISO 226:2003, near the middle of each band
FULL_SCALE_DB = 96.0  # an ordinary first sound comes to about 60 dBA
PHASES = 24
RIGHT = {"site": "left-sternal-edge", "instrument": "diaphragm", "breathing": "held-expiration"}
WRONG = {"site": "carotid", "instrument": "bell", "breathing": "valsalva"}
POWERS = [signal.butter(3, band, "bandpass", fs=8000, output="sos") for band in BANDS]


def patient(seed):
    random = np.random.RandomState(seed)
    return {
        "seed": seed, "rate": float(random.choice([56, 64, 72, 80, 88])), "age": 65,
        "sex": str(random.choice(["male", "female"])),
    }  # fmt: skip


def features(kind, grade, seed, technique):
    """Median level over the beats, in four bands at 24 phases, as far as it can be heard."""
    who = patient(seed)
    lesions = [{"type": kind, "grade": grade}] if kind else []
    spec = {"kind": "heart-sound", "patient": who, "lesions": lesions, "noise_db": -50}
    sound = render(parse(spec), technique).samples.astype(float)
    r = np.round(r_peaks(who, **technique) * 8000).astype(int)
    rows = [_phases(signal.sosfiltfilt(sections, sound), r) for sections in POWERS]
    level = 10 * np.log10(np.array(rows) + 1e-12) + FULL_SCALE_DB
    jitter = np.random.RandomState(seed + 7).standard_normal(level.shape)
    return np.maximum(level - THRESHOLDS_DB[:, None], 0).ravel() + jitter.ravel()


def _phases(sound, r):
    edges = [np.linspace(a, b, PHASES + 1).astype(int) for a, b in pairwise(r)]
    return np.median(
        [[np.mean(sound[a:b] ** 2) for a, b in pairwise(e)] for e in edges],
        axis=0,
    )


def rate_and_level(kind, grade, seed, technique):
    """The control: what can be guessed without listening to the beat at all."""
    heard = features(kind, grade, seed, technique)
    return np.array([patient(seed)["rate"], heard.mean()])


def accuracy(technique, grade=3, reading=features):
    """Share of held-out clips named right, trained and tested under the same technique."""
    sets = []
    for seeds in (TRAIN, TEST):
        pairs = [(kind, seed) for kind in CLASSES for seed in seeds]
        rows = [reading(kind, grade, seed + 31 * CLASSES.index(kind), technique)
                for kind, seed in pairs]  # fmt: skip
        sets.append((np.array(rows), [str(kind) for kind, _ in pairs]))
    model = make_pipeline(StandardScaler(), LogisticRegression(C=0.1, max_iter=400))
    return float(model.fit(*sets[0]).score(*sets[1]))


@pytest.fixture(scope="module")
def right():
    return accuracy(RIGHT)


def test_with_the_right_technique_held_out_patients_are_recognised(right):
    assert right >= 0.9


def test_with_the_wrong_technique_they_are_not(right):
    assert accuracy(WRONG) <= right - 0.25


def test_the_softest_murmurs_are_missed_more_often(right):
    assert accuracy(RIGHT, grade=1) < right - 0.1


def test_rate_and_overall_level_alone_do_not_give_the_class_away(right):
    # Chance is 0.17; level carries some real information.
    assert accuracy(RIGHT, reading=rate_and_level) <= right - 0.4
