"""What every clip keeps to: one length, no seam, one gain, the same again from the same seed."""

from __future__ import annotations

import hashlib
from typing import get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.domain.signs import parse, render
from casebank.domain.signs.heart.transmission import SITES
from casebank.domain.signs.signal import COUNT
from casebank.domain.signs.spec import LesionType

SPECS = {
    "usual heart": {"kind": "heart-sound"},
    "stenosis": {"kind": "heart-sound", "lesions": [{"type": "aortic-stenosis", "grade": 4}]},
    "fibrillation": {"kind": "heart-sound", "rhythm": {"name": "atrial-fibrillation"}},
    "rub": {"kind": "heart-sound", "extras": [{"type": "rub"}]},
    "usual lung": {"kind": "breath-sound"},
    "wheeze": {
        "kind": "breath-sound",
        "zones": [{"sites": ["back-lower-zone"], "added": [{"type": "wheeze"}]}],
    },
    "crackles": {
        "kind": "breath-sound",
        "zones": [{"sites": ["back-lower-zone"], "added": [{"type": "coarse-crackles"}]}],
    },
    "voice": {"kind": "breath-sound", "says": "spoken"},
}
LEFT_BASE = {"site": "back-lower-zone", "side": "left", "breathing": "deep"}


def technique_for(name):
    return {} if SPECS[name]["kind"] == "heart-sound" else LEFT_BASE


@pytest.mark.parametrize("name", SPECS)
def test_every_clip_has_the_same_length_and_rate(name):
    shown = render(parse(SPECS[name]), technique_for(name))
    assert (len(shown.samples), shown.rate, shown.samples.dtype) == (COUNT, 8000, np.float32)


@pytest.mark.parametrize("name", SPECS)
def test_the_end_runs_into_the_beginning(name):
    samples = render(parse(SPECS[name]), technique_for(name)).samples.astype(np.float64)
    for order in (1, 2):
        inner = np.abs(np.diff(samples, order))
        around = np.abs(np.diff(np.concatenate((samples[-order:], samples[:order])), order))
        assert around.max() <= np.quantile(inner, 0.999)


@pytest.mark.parametrize("name", SPECS)
def test_the_same_seed_gives_the_same_samples_and_another_does_not(name):
    def digest(seed):
        spec = SPECS[name] | {"patient": {"seed": seed}}
        return hashlib.sha256(
            render(parse(spec), technique_for(name)).samples.tobytes()
        ).hexdigest()

    assert digest(5) == digest(5) != digest(6)


def test_a_sign_that_is_added_leaves_the_others_as_they_were():
    bare = render(parse({"kind": "heart-sound", "noise_db": -80}), {"breathing": "held-expiration"})
    spec = {"kind": "heart-sound", "noise_db": -80, "extras": [{"type": "third-sound"}]}
    more = render(parse(spec), {"breathing": "held-expiration"})
    difference = more.samples.astype(float) - bare.samples
    changed = np.abs(difference) > 1e-4
    assert 0.02 < changed.mean() < 0.6  # only where the third sounds are


def test_a_usual_heart_peaks_at_minus_6_dbfs_where_it_is_loudest():
    loudest = max(
        np.abs(
            render(parse(SPECS["usual heart"]), {"site": site, "instrument": piece}).samples
        ).max()
        for site in ("apex", "tricuspid-area", "aortic-area", "pulmonary-area")
        for piece in ("bell", "diaphragm")
    )
    assert 20 * np.log10(loudest) == pytest.approx(-6, abs=1)


@given(
    st.sampled_from(get_args(LesionType)),
    st.integers(1, 6),
    st.sampled_from(SITES),
    st.sampled_from(["reclined-45", "left-lateral", "sitting-forward", "squatting", "standing"]),
    st.sampled_from(["quiet", "inspiration", "held-expiration", "valsalva"]),
    st.sampled_from(["bell", "diaphragm"]),
)
@settings(max_examples=25)
def test_nothing_is_ever_louder_than_minus_3_dbfs(kind, grade, site, posture, way, piece):
    spec = {"kind": "heart-sound", "lesions": [{"type": kind, "grade": grade}]}
    technique = {"site": site, "posture": posture, "breathing": way, "instrument": piece}
    samples = render(parse(spec), technique).samples
    assert np.all(np.isfinite(samples))
    assert np.abs(samples).max() <= 10 ** (-3 / 20) + 1e-6
    clipped = np.mean(np.abs(samples) >= 10 ** (-3 / 20) - 1e-6)
    assert clipped < 1e-4


def test_distant_hearts_are_softer_not_levelled_up():
    def peak(habitus):
        spec = {"kind": "heart-sound", "noise_db": -80, "patient": {"habitus": habitus}}
        return np.abs(render(parse(spec), {"instrument": "bell"}).samples).max()

    assert peak("obese") < 0.5 * peak("average")
    assert peak("hyperinflated") < peak("obese")
