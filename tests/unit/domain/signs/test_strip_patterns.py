"""Patterns of the twelve leads against published criteria, measured on the rendered curves.

Q waves: Universal Definition of Myocardial Infarction (Thygesen et al., Circulation 2012 and 2018):
QS or any Q of 20 ms in V2-V3; Q of 30 ms and 0.1 mV, or QS, in two contiguous of the other leads.
Strain: "a downsloping convex ST segment with inverted asymmetrical T wave opposite to the QRS axis
in leads V5 and/or V6" (Okin et al., J Am Coll Cardiol 2001;38:514). Voltages: Sokolow & Lyon 1949;
R in V1 and R/S above 1 for the right (AHA/ACCF/HRS 2009; both from memory).
"""

from __future__ import annotations

import numpy as np
import pytest

from casebank.domain.examination.readings import SignReader
from casebank.domain.signs import alternative, parse, render
from tests.factories.records import shipped_catalogue

RATE = 500
STILL = {"breathing": "held-expiration"}
GROUPS = (("I", "aVL", "V6"), ("V4", "V5", "V6"), ("II", "III", "aVF"))
Q_LEADS = {
    "inferior": {"II", "III", "aVF"},
    "anterior": {"V2", "V3", "V4"},
    "lateral": {"I", "aVL", "V5", "V6"},
}
SEEN = 0.02
"""mV below the line from which a wave is taken to have begun."""


def spec(**fields):
    man = {"sex": "male", "rate": 60, "age": 75}
    usual = {"patient": man, "rhythm": {"pr_ms": 200}, **fields}
    return parse({"kind": "rhythm-strip", "leads": "twelve", **usual})


def twelve(**fields):
    return {one.label: one.samples for one in render(spec(**fields), STILL).trace}


def beat_of(curve, first, last):
    """Samples from ``first`` to ``last`` ms of R, R being that of an unchanged lead II."""
    r = int(np.argmax(twelve()["II"][1000:1500])) + 1000
    return curve[r + first * RATE // 1000 : r + last * RATE // 1000]


def first_wave(curve):
    """Depth in mV and width in ms of a complex that begins downward; nothing where it does not."""
    part = beat_of(curve, -80, 80)
    begins = np.flatnonzero(np.abs(part) > SEEN)
    if not len(begins) or part[begins[0]] > 0:
        return 0.0, 0.0
    rest = part[begins[0] :] < -SEEN
    ends = int(np.argmin(rest)) if not rest.all() else len(rest)
    return -float(part[begins[0] :][:ends].min()), ends * 1000 / RATE


def is_deep(lead, curve):
    depth, width = first_wave(curve)
    if lead in ("V2", "V3"):
        return width >= 20
    return width >= 30 and depth >= 0.1


def pathological(leads):
    """The leads that count, by the definition's groups of contiguous ones."""
    deep = {lead for lead, curve in leads.items() if is_deep(lead, curve)}
    grouped = [set(group) & deep for group in GROUPS]
    counted = set().union(*(one for one in grouped if len(one) >= 2))
    return counted | (deep & {"V2", "V3", "V4"} if {"V2", "V3"} <= deep else set())


def test_an_ordinary_tracing_has_no_pathological_q_wave():
    assert pathological(twelve()) == set()


@pytest.mark.parametrize("place", Q_LEADS)
def test_q_waves_are_pathological_in_their_leads_and_no_other(place):
    assert pathological(twelve(q=place)) == Q_LEADS[place]


def test_the_anterior_ones_leave_no_upstroke_in_v1_to_v3():
    leads = twelve(q="anterior")
    assert all(beat_of(leads[lead], -80, 60).max() < SEEN for lead in ("V1", "V2", "V3"))


@pytest.mark.parametrize("place", Q_LEADS)
def test_limb_leads_still_agree(place):
    leads = twelve(q=place, strain="left")
    assert np.allclose(leads["I"] + leads["III"], leads["II"])


def is_strained(curve):
    """ST lowered 0.05 mV 80 ms after J, sloping on down to a T wave that returns faster."""
    part = beat_of(curve, 120, 480)
    low = int(np.argmin(part))
    down, up = np.diff(part[: low + 1]), np.diff(part[low:])
    return (
        part[0] <= -0.05
        and part.min() <= -0.1
        and (down <= 1e-4).all()
        and up.max() > 1.4 * -down.min()
    )


def test_left_strain_is_in_the_leads_that_face_the_left_ventricle():
    leads = twelve(strain="left", voltage=1.6)
    assert {lead for lead in leads if is_strained(leads[lead])} == {"I", "aVL", "V5", "V6"}
    assert beat_of(leads["V2"], 200, 480).max() > 0.3


def test_with_its_large_complexes_the_voltage_is_over_35_mm():
    leads = twelve(strain="left", voltage=1.6)
    sokolow = -beat_of(leads["V1"], -60, 80).min() + beat_of(leads["V5"], -60, 80).max()
    usual = twelve()
    ordinary = -beat_of(usual["V1"], -60, 80).min() + beat_of(usual["V5"], -60, 80).max()
    assert ordinary < 3.5 <= sokolow


def test_right_strain_has_a_tall_r_in_v1_and_the_axis_to_the_right():
    leads = twelve(strain="right")
    assert {"V1", "V2", "V3"} <= {lead for lead in leads if is_strained(leads[lead])}
    assert not is_strained(leads["V6"])
    v1 = beat_of(leads["V1"], -60, 80)
    assert v1.max() > 0.6
    assert v1.max() > -v1.min()
    net = {lead: beat_of(leads[lead], -60, 80) for lead in ("I", "aVF")}
    assert net["I"].max() + net["I"].min() < 0 < net["aVF"].max() + net["aVF"].min()


def test_an_ordinary_tracing_has_no_strain():
    leads = twelve()
    assert [lead for lead in leads if lead != "aVR" and is_strained(leads[lead])] == []


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"q": "inferior"}, "In II, III and aVF each complex begins with a broad, deep downstroke"),
        ({"strain": "left", "voltage": 1.6}, "The complexes are very large"),
        ({"strain": "right"}, "in V1 the complex points upward"),
        ({"rhythm": {"swing": 24}}, "quickening a little with each breath in"),
    ],
)
def test_the_words_say_what_is_seen(fields, said):
    assert said in alternative(spec(**fields), {})
    assert said not in alternative(spec(), {})


@pytest.mark.parametrize(
    ("words", "sign"),
    [
        ("sinus arrhythmia", "sinus-arrhythmia"),
        ("pathological Q waves", "q-waves"),
        ("old inferior infarct", "inferior-q-waves"),
        ("Q waves anteriorly", "anterior-q-waves"),
        ("lateral Q waves", "lateral-q-waves"),
        ("LV strain", "left-strain"),
        ("right heart strain", "right-strain"),
    ],
)
def test_the_catalogue_knows_the_patterns_names(words, sign):
    found = SignReader(shipped_catalogue().vocabulary).read(words, ("rhythm",))
    assert not found.choices
    assert sign in {value for one in found.stated for value in one.features["sign"]}
