"""Paired clips: what posture, breathing and effort do to a murmur, in the published direction.

Directions: the clinical values, section 2.4 (Lembo 1988; a standard manual table). Levels are
measured on rendered sound in the murmur's own part of the beat, through scipy filters.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.domain.signs.measure import (
    RATE,
    STILL,
    banded,
    clip,
    db,
    heart,
    murmur,
    r_peaks,
)

PATIENT = {"sex": "male", "rate": 72, "age": 70}
PLACE = {
    "aortic-stenosis": ("aortic-area", "diaphragm", "systole"),
    "outflow-obstruction": ("left-sternal-edge", "diaphragm", "systole"),
    "mitral-regurgitation": ("apex", "diaphragm", "systole"),
    "mitral-prolapse": ("apex", "diaphragm", "systole"),
    "tricuspid-regurgitation": ("tricuspid-area", "diaphragm", "systole"),
    "ventricular-septal-defect": ("left-sternal-edge", "diaphragm", "systole"),
    "aortic-regurgitation": ("left-sternal-edge", "diaphragm", "diastole"),
    "mitral-stenosis": ("apex", "bell", "diastole"),
}
BANDS = {"mitral-stenosis": (35, 110)}


def level(kind, **technique):
    """Loudness in dB of the murmur's part of the beat, averaged over the loop.

    The parts are found from R peaks of a strip under the same technique and Weissler's lines.
    """
    site, piece, part = PLACE[kind]
    slots = {"site": site, "instrument": piece} | technique
    spec = murmur(kind, 3, presystolic=False) | {"patient": PATIENT}
    sound = banded(clip(spec, **slots), *BANDS.get(kind, (160, 700)))
    r = r_peaks(PATIENT, **technique)
    gaps = np.diff(r, append=r[0] + 15)
    starts = r + 0.30 * np.sqrt(gaps / 0.83) - 0.06
    if part == "diastole":
        starts = r + 0.36 + np.where(kind == "mitral-stenosis", 0.16, 0.06)
    count = int(0.08 * RATE)
    places = (np.round(starts * RATE).astype(int)[:, None] + np.arange(count)) % len(sound)
    return db(np.sqrt(np.mean(sound[places] ** 2)))


RESTING = {"breathing": "held-expiration"}
LOUDER, SOFTER = 1, -1
CELLS = [
    ("inspiration", "aortic-stenosis", SOFTER),
    ("inspiration", "outflow-obstruction", SOFTER),
    ("inspiration", "mitral-regurgitation", SOFTER),
    ("inspiration", "aortic-regurgitation", SOFTER),
    ("inspiration", "mitral-stenosis", SOFTER),
    ("inspiration", "tricuspid-regurgitation", LOUDER),
    ("valsalva", "aortic-stenosis", SOFTER),
    ("valsalva", "outflow-obstruction", LOUDER),
    ("valsalva", "mitral-regurgitation", SOFTER),
    ("valsalva", "mitral-prolapse", LOUDER),
    ("valsalva", "aortic-regurgitation", SOFTER),
    ("valsalva", "tricuspid-regurgitation", SOFTER),
    ("standing", "aortic-stenosis", SOFTER),
    ("standing", "outflow-obstruction", LOUDER),
    ("standing", "mitral-regurgitation", SOFTER),
    ("standing", "mitral-prolapse", LOUDER),
    ("standing", "aortic-regurgitation", SOFTER),
    ("standing", "tricuspid-regurgitation", SOFTER),
    ("squatting", "aortic-stenosis", LOUDER),
    ("squatting", "outflow-obstruction", SOFTER),
    ("squatting", "mitral-regurgitation", LOUDER),
    ("squatting", "mitral-prolapse", SOFTER),
    ("squatting", "aortic-regurgitation", LOUDER),
    ("squatting", "tricuspid-regurgitation", LOUDER),
    ("legs-raised", "outflow-obstruction", SOFTER),
    ("legs-raised", "tricuspid-regurgitation", LOUDER),
    ("handgrip", "aortic-stenosis", SOFTER),
    ("handgrip", "outflow-obstruction", SOFTER),
    ("handgrip", "mitral-regurgitation", LOUDER),
    ("handgrip", "ventricular-septal-defect", LOUDER),
    ("handgrip", "mitral-prolapse", LOUDER),
    ("handgrip", "aortic-regurgitation", LOUDER),
    ("handgrip", "mitral-stenosis", LOUDER),
    ("left-lateral", "mitral-stenosis", LOUDER),
    ("sitting-forward", "aortic-regurgitation", LOUDER),
]
SLOT = {"inspiration": "breathing", "valsalva": "breathing", "handgrip": "effort"}


def with_manoeuvre(manoeuvre):
    return RESTING | {SLOT.get(manoeuvre, "posture"): manoeuvre}


@pytest.mark.parametrize(("manoeuvre", "kind", "sign"), CELLS)
def test_the_murmur_changes_in_the_published_direction(manoeuvre, kind, sign):
    change = level(kind, **with_manoeuvre(manoeuvre)) - level(kind, **RESTING)
    assert sign * change > 0.4


def test_between_postures_the_obstructed_outflow_moves_against_the_others():
    # Squat to stand: louder in HCM (Lembo 1988, sensitivity 95 %, specificity 84 %).
    def change(kind):
        return level(kind, **with_manoeuvre("standing")) - level(
            kind, **with_manoeuvre("squatting")
        )

    assert change("outflow-obstruction") > 8
    for other in ("aortic-stenosis", "mitral-regurgitation", "aortic-regurgitation"):
        assert change(other) < -3


def test_within_one_clip_of_quiet_breathing_a_right_sided_murmur_swells_breathing_in():
    def swing(kind):
        site, piece, _ = PLACE[kind]
        spec = murmur(kind, 4) | {"patient": PATIENT}
        sound = banded(clip(spec, site=site, instrument=piece), 160, 700)
        breath = np.arange(len(sound)) / RATE % 3.75 / 3.75
        full, empty = (breath > 0.3) & (breath < 0.5), breath > 0.9
        return db(np.sqrt(np.mean(sound[full] ** 2) / np.mean(sound[empty] ** 2)))

    assert swing("tricuspid-regurgitation") > 1 > swing("mitral-regurgitation")


def test_some_patients_murmurs_do_not_move():
    spec = heart(
        patient=PATIENT,
        lesions=[{"type": "outflow-obstruction", "grade": 3, "unmoved": ["squatting"]}],
    )
    moved = murmur("outflow-obstruction", 3) | {"patient": PATIENT}
    squat = {"site": "left-sternal-edge", "posture": "squatting", **STILL}
    loud = [np.sqrt(np.mean(banded(clip(s, **squat), 160, 700) ** 2)) for s in (spec, moved)]
    assert db(loud[0] / loud[1]) > 4


def test_the_click_comes_earlier_standing_and_later_squatting():
    def click(posture):
        technique = {"site": "apex", "posture": posture, **STILL}
        spec = heart(patient=PATIENT, extras=[{"type": "mid-systolic-click", "level_db": 6}])
        extra = np.abs(clip(spec, **technique) - clip(heart(patient=PATIENT), **technique))
        r = r_peaks(PATIENT, posture=posture, **STILL)
        gap = 15 / len(r)
        places = (np.round(r * RATE).astype(int)[:, None] + np.arange(int(0.4 * RATE))) % len(extra)
        return np.argmax(extra[places].mean(axis=0)) / RATE / gap

    assert click("standing") < click("reclined-45") < click("squatting")
