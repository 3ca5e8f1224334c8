"""Whatever is asked for within the limits is rendered, drawn and told."""

from __future__ import annotations

from typing import get_args
from xml.etree import ElementTree as ET

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.domain.signs import alternative, drawing, parse, render
from casebank.domain.signs.spec import ExtraType, LesionType, RhythmName

patients = st.fixed_dictionaries(
    {
        "rate": st.integers(24, 200),
        "breath_rate": st.integers(6, 44),
        "age": st.integers(12, 100),
        "sex": st.sampled_from(["male", "female"]),
        "seed": st.integers(0, 9999),
        "habitus": st.sampled_from(["thin", "average", "obese", "hyperinflated"]),
    }
)
rhythms = st.fixed_dictionaries(
    {
        "name": st.sampled_from(get_args(RhythmName)),
        "pr_ms": st.integers(80, 400),
        "every": st.integers(2, 12),
    }
)
techniques = st.fixed_dictionaries(
    {
        "posture": st.sampled_from(["supine", "sitting", "standing", "squatting", "legs-raised"]),
        "breathing": st.sampled_from(["quiet", "deep", "inspiration", "valsalva"]),
        "effort": st.sampled_from(["relaxed", "handgrip", "firm"]),
        "timing": st.sampled_from(["untimed", "carotid"]),
    }
)
hearts = st.fixed_dictionaries(
    {
        "kind": st.just("heart-sound"),
        "lesions": st.lists(
            st.fixed_dictionaries({"type": st.sampled_from(get_args(LesionType))}), max_size=2
        ),
        "extras": st.lists(
            st.fixed_dictionaries({"type": st.sampled_from(get_args(ExtraType))}), max_size=2
        ),
    }
)
curves = st.one_of(
    st.fixed_dictionaries(
        {
            "kind": st.just("arterial-pulse"),
            "artery": st.sampled_from(["carotid", "brachial", "radial", "femoral"]),
            "character": st.sampled_from(["normal", "collapsing", "bisferiens", "alternans"]),
        }
    ),
    st.fixed_dictionaries(
        {
            "kind": st.just("venous-wave"),
            "pattern": st.sampled_from(["normal", "giant-a", "constriction", "tamponade"]),
            "height_cm": st.floats(-8, 25),
        }
    ),
    st.fixed_dictionaries(
        {"kind": st.just("rhythm-strip"), "leads": st.sampled_from(["one", "twelve"])}
    ),
)


def check(document, technique):
    spec = parse(document)
    shown = render(spec, technique)
    assert shown.seconds == 15
    assert np.all(np.isfinite(shown.samples))
    assert all(np.all(np.isfinite(channel.samples)) for channel in shown.trace)
    ET.fromstring(drawing(spec, technique))  # noqa: S314 - our own output
    assert alternative(spec, technique)


@given(curves, patients, rhythms, techniques)
@settings(max_examples=80)
def test_any_curve(document, patient, rhythm, technique):
    check(document | {"patient": patient, "rhythm": rhythm}, technique)


@given(hearts, patients, rhythms, techniques)
@settings(max_examples=15)
def test_any_heart(document, patient, rhythm, technique):
    check(document | {"patient": patient, "rhythm": rhythm}, technique)
