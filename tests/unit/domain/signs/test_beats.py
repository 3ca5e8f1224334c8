"""The table of beats, against published intervals and the rules of each rhythm."""

from __future__ import annotations

from typing import get_args

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from casebank.domain.signs.beats import intervals
from casebank.domain.signs.beats.table import beats
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.signal import LENGTH
from casebank.domain.signs.spec import Patient, Rhythm, RhythmName

NAMES = get_args(RhythmName)
HERE = Setting("apex")
rhythms = st.sampled_from(NAMES)


def table(rate=72, name="sinus", setting=HERE, **patient):
    return beats(Patient(rate=rate, **patient), Rhythm(name=name), setting)


@pytest.mark.parametrize(
    ("rate", "qs2", "lvet", "pep"),
    # Weissler, Harris & Schoenfeld 1968, men, as tabled in the clinical values (section 3.1).
    [(50, 441, 328, 111), (60, 420, 311, 107), (75, 388.5, 285.5, 101), (100, 336, 243, 91)],
)
def test_intervals_are_weisslers(rate, qs2, lvet, pep):
    hertz = np.array([float(rate)])
    ejection = float(intervals.ejection(hertz, "male")[0]) * 1000
    before = float(intervals.preejection(hertz, "male")[0]) * 1000
    assert ejection == pytest.approx(lvet, abs=0.5)
    assert before == pytest.approx(pep, abs=0.5)
    assert ejection + before == pytest.approx(qs2, abs=5)


@pytest.mark.parametrize("sex", ["male", "female"])
def test_preejection_over_ejection_is_near_the_published_mean(sex):
    # Wanderman 1978: adult mean 0.345.
    hertz = np.array([70.0])
    ratio = intervals.preejection(hertz, sex)[0] / intervals.ejection(hertz, sex)[0]
    assert ratio == pytest.approx(0.345, abs=0.012)


def test_as_the_rate_rises_diastole_shortens_more_than_systole():
    slow, fast = table(60), table(120)
    systole = [float(np.mean(t.a2 - t.m1)) for t in (slow, fast)]
    diastole = [float(np.mean(t.before)) - s for t, s in zip((slow, fast), systole, strict=True)]
    assert diastole[0] - diastole[1] > 2 * (systole[0] - systole[1]) > 0


@given(rhythms, st.integers(45, 140), st.integers(0, 999))
@example("atrial-fibrillation", 102, 26)
@settings(max_examples=60)
def test_events_of_a_beat_keep_their_order(name, rate, seed):
    t = table(rate, name, seed=seed)
    assert np.all(np.diff(t.r) > 0)
    assert np.all(t.q < t.m1)
    assert np.all(t.m1 < t.ejection)
    assert np.all(t.ejection + 0.1 < t.a2)
    assert np.all(t.a2 < t.m1 + t.after)


@given(rhythms, st.integers(45, 140), st.integers(0, 999))
@settings(max_examples=60)
def test_intervals_add_up_to_the_loop(name, rate, seed):
    t = table(rate, name, seed=seed)
    assert t.before.sum() == pytest.approx(LENGTH)
    assert t.before.min() >= 0.2


@pytest.mark.parametrize("rate", [48, 60, 72, 96, 120])
def test_the_rate_is_the_one_asked_for(rate):
    assert len(table(rate).r) * 4 == rate


def test_breathing_makes_young_hearts_less_even_than_old_ones():
    young, old = table(age=20), table(age=75)
    assert np.ptp(60 / young.before) > 2 * np.ptp(60 / old.before) > 0


def test_held_breath_takes_sinus_arrhythmia_away():
    still = Setting("apex", breathing="held-expiration")
    assert np.ptp(table(age=20, setting=still).before) < 0.4 * np.ptp(table(age=20).before)


def test_fibrillation_is_irregular_in_the_usual_measure():
    # Coefficient of variation 0.20-0.28 (from memory); shortest 320 ms by construction.
    spread = [np.std(t.before) / np.mean(t.before) for t in _fibrillating()]
    assert 0.18 <= float(np.mean(spread)) <= 0.28


def test_fibrillating_intervals_follow_no_order():
    lags = []
    for t in _fibrillating():
        centred = t.before - t.before.mean()
        lags.append(float(np.sum(centred * np.roll(centred, 1)) / np.sum(centred**2)))
    assert abs(float(np.mean(lags))) < 0.25


def _fibrillating():
    return [table(90, "atrial-fibrillation", seed=seed) for seed in range(20)]


def test_fibrillating_atria_make_no_p_wave():
    assert not len(table(90, "atrial-fibrillation").atrial)


def test_an_early_beat_is_followed_by_a_full_pause():
    t = table(72, "ventricular-ectopics", age=75)
    early = np.flatnonzero(t.is_wide)
    pair = t.before[early] + t.after[early]
    assert np.all(t.before[early] < 0.65 * 60 / 68)
    assert pair == pytest.approx(np.full(len(early), 2 * LENGTH / len(t.r)), rel=0.05)


def test_after_an_early_atrial_beat_the_pause_is_less_than_full():
    t = table(72, "atrial-ectopics", age=75)
    early = np.flatnonzero(t.before < 0.75 * np.median(t.before))
    assert len(early) >= 3
    assert np.all(t.before[early] + t.after[early] < 1.9 * np.median(t.before))


def test_in_complete_block_atria_and_ventricles_never_lock():
    t = table(78, "complete-block")
    gaps = np.mod(t.r[:, None] - t.atrial[None, :], LENGTH).min(axis=1)
    assert len(np.unique(np.round(gaps, 3))) == len(t.r)
    assert np.ptp(t.s1_db) > 6


def test_dropped_beats_lengthen_pr_by_shrinking_steps():
    t = table(72, "dropped-beats")
    pr = (t.r - t.p).reshape(-1, 3)
    steps = np.diff(pr, axis=1)
    assert np.all(steps > 0)
    assert np.all(steps[:, 1] < steps[:, 0])
    assert len(t.atrial) == len(t.r) * 4 // 3


def test_two_to_one_block_has_two_p_waves_a_beat():
    t = table(40, "two-to-one-block")
    assert len(t.atrial) == 2 * len(t.r)


def test_standing_quickens_and_squatting_slows():
    counts = [
        len(table(setting=Setting("apex", posture=p)).r)
        for p in ("squatting", "reclined-45", "standing")
    ]
    assert counts[0] < counts[1] < counts[2]
