"""Normal findings and landmarks of the basic examination against published values."""

from __future__ import annotations

import re
from itertools import product
from pathlib import Path

import pytest

from casebank.domain.examination.catalogue import AGES, SEXES, parse_catalogue

FOLDER = Path(__file__).parents[4] / "fixtures" / "catalogue"
CATALOGUE = parse_catalogue(
    {path.name: path.read_text(encoding="utf-8") for path in FOLDER.glob("*.toml")}
)
ADULTS = list(product(range(16, 111), SEXES))


def numbers(slug: str, age: int, sex: str) -> list[float]:
    """The numbers in a step's normal finding, in the order written."""
    return [
        float(n) for n in re.findall(r"\d+(?:\.\d+)?", CATALOGUE.steps[slug].normal_for(age, sex))
    ]


# Bands that score 0: NEWS2, Royal College of Physicians 2017 (air, scale 1, people of 16 and over).
@pytest.mark.parametrize(
    ("slug", "low", "high"),
    [
        ("respiratory-rate", 12, 20),
        ("oxygen-saturation", 96, 100),
        ("blood-pressure", 111, 219),
        ("radial-pulse-rate", 51, 90),
        ("temperature", 36.1, 38.0),
    ],
)
def test_the_normal_observations_of_every_adult_score_nothing(slug: str, low: float, high: float):
    assert all(low <= numbers(slug, age, sex)[0] <= high for age, sex in ADULTS)


# ESC/ESH 2018, kept by ESH 2023: hypertension from 140 systolic or 90 diastolic.
def test_no_normal_blood_pressure_is_hypertension() -> None:
    for age, sex in product(AGES, SEXES):
        systolic, diastolic = numbers("blood-pressure", age, sex)
        assert diastolic < 90
        assert diastolic < systolic < 140


# Fleming et al., Lancet 2011;377:1011-1018, abstract: median heart rate 127 at birth, 145 at one
# month, 113 at two years; median respiratory rate 44 at birth, 26 at two years.
def test_the_rates_of_infants_lie_between_the_published_medians() -> None:
    for age, sex in product((0, 1), SEXES):
        assert 113 <= numbers("radial-pulse-rate", age, sex)[0] <= 145
        assert 26 <= numbers("respiratory-rate", age, sex)[0] <= 44
    for age, sex in product(range(2, 111), SEXES):
        assert numbers("radial-pulse-rate", age, sex)[0] <= 113
        assert numbers("respiratory-rate", age, sex)[0] <= 26


@pytest.mark.parametrize("slug", ["radial-pulse-rate", "respiratory-rate"])
@pytest.mark.parametrize("sex", SEXES)
def test_rates_fall_as_children_grow(slug: str, sex: str) -> None:
    rates = [numbers(slug, age, sex)[0] for age in range(17)]
    assert rates == sorted(rates, reverse=True)
    assert len(set(rates)) >= 5


@pytest.mark.parametrize("sex", SEXES)
def test_pressure_never_falls_with_age(sex: str) -> None:
    systolic = [numbers("blood-pressure", age, sex)[0] for age in AGES]
    assert systolic == sorted(systolic)


# WHO guideline on haemoglobin cutoffs to define anaemia, 2024 (g/L): 24-59 months 110, 5-11 years
# 115, 12-14 years 120, women from 15 years 120, men 130; 6-23 months 105 (taken as 110 here).
def test_no_normal_haemoglobin_is_anaemia() -> None:
    for age, sex in product(AGES, SEXES):
        adult = 130 if sex == "male" else 120
        cutoff = 110 if age < 5 else 115 if age < 12 else 120 if age < 15 else adult
        assert numbers("full-blood-count", age, sex)[0] >= cutoff


def test_women_and_men_differ_where_health_differs() -> None:
    for slug in ("full-blood-count", "weight", "height", "renal-function", "ask-pregnancy"):
        step = CATALOGUE.steps[slug]
        assert step.normal_for(30, "female") != step.normal_for(30, "male"), slug


# Apex: fifth space (fourth to sixth), mid-clavicular line, 2-3 cm wide (textbooks; second hand).
# In small children it lies a space higher: common practice, no source.
def test_the_apex_of_an_adult_is_in_the_fifth_space_in_the_mid_clavicular_line() -> None:
    step = CATALOGUE.steps["apex-beat-position"]
    for age, sex in ADULTS:
        assert "ifth left space, in the mid-clavicular line" in step.normal_for(age, sex)
    assert "Fourth left space" in step.normal_for(1, "female")
    assert 2 <= numbers("apex-beat-character", 40, "male")[0] <= 3


# Venous pressure: vertical height above the sternal angle at 30-45 degrees, raised above 3 cm
# (Cook & Simel, JAMA 1996; textbooks; second hand).
def test_the_venous_pressure_is_measured_from_the_sternal_angle_and_is_not_raised() -> None:
    step = CATALOGUE.steps["jvp-height"]
    posture = step.slot("posture")
    assert posture is not None
    assert posture.default == "reclined-45"
    assert "vertical height from the sternal angle" in step.how
    assert "more than 3 cm is raised" in step.how
    for age, sex in ADULTS:
        assert numbers("jvp-height", age, sex)[0] <= 3


# Abdominojugular test: firm pressure for 10 s or more; positive if it falls 4 cm or more on
# release (McGee, Evidence-Based Physical Diagnosis, 2018; from memory).
def test_the_abdominojugular_test_is_firm_and_lasts_ten_seconds() -> None:
    step = CATALOGUE.steps["abdominojugular-test"]
    assert step.full_technique({})["effort"] == "firm"
    assert step.full_technique({})["timing"] == "seconds-10"
    assert "at least 10 seconds" in step.how
    assert "at least 4 cm" in step.how


# Paradox: normal fall under 10 mmHg in quiet breathing (Roy et al., JAMA 2007; second hand).
def test_the_normal_paradox_is_under_ten_and_taken_in_quiet_breathing() -> None:
    assert numbers("pulsus-paradoxus", 50, "male")[0] < 10
    assert CATALOGUE.steps["pulsus-paradoxus"].full_technique({}) == {
        "breathing": "quiet",
        "instrument": "cuff-standard",
    }


# Orthostatic hypotension: fall of 20 systolic or 10 diastolic within 3 minutes (consensus 2011).
def test_the_normal_postural_fall_is_under_twenty() -> None:
    how = CATALOGUE.steps["blood-pressure-postural"].looks_for
    assert "20 systolic or 10 diastolic within three minutes" in how
    assert numbers("blood-pressure-postural", 80, "female")[0] < 20


# Areas: aortic second right space, pulmonary second left, left sternal edge third to fourth,
# tricuspid lower left edge, mitral at the apex (textbooks).
@pytest.mark.parametrize(
    ("site", "phrase"),
    [
        ("aortic-area", "2nd right intercostal space"),
        ("pulmonary-area", "2nd left intercostal space"),
        ("left-sternal-edge", "3rd left intercostal space"),
        ("tricuspid-area", "lower left sternal edge"),
        ("apex", "mitral area"),
        ("apex", "5th intercostal space midclavicular line"),
    ],
)
def test_an_area_of_the_heart_is_where_the_textbooks_put_it(site: str, phrase: str) -> None:
    assert phrase in CATALOGUE.value("site", site).phrases
    areas = CATALOGUE.steps["auscultate-heart"].slot("site")
    assert areas is not None
    assert site in areas.values


# Manoeuvres that tell murmurs apart: Lembo et al., N Engl J Med 1988, and standard tables.
@pytest.mark.parametrize(
    ("slot", "value"),
    [
        ("breathing", "valsalva"),
        ("breathing", "inspiration"),
        ("breathing", "held-expiration"),
        ("posture", "squatting"),
        ("posture", "standing"),
        ("posture", "legs-raised"),
        ("posture", "left-lateral"),
        ("posture", "sitting-forward"),
        ("effort", "handgrip"),
        ("instrument", "bell"),
        ("timing", "carotid"),
    ],
)
def test_the_heart_can_be_heard_in_every_manoeuvre(slot: str, value: str) -> None:
    taken = CATALOGUE.steps["auscultate-heart"].slot(slot)
    assert taken is not None
    assert value in taken.values
    assert value != taken.default


# Radiation: aortic stenosis to the right clavicle and carotids, mitral regurgitation to the axilla
# (textbooks; McGee, Am J Med 2010).
def test_radiation_is_sought_at_axilla_carotid_and_right_clavicle() -> None:
    taken = CATALOGUE.steps["murmur-radiation"].slot("site")
    assert taken is not None
    assert {"axilla", "carotid", "right-clavicle"} <= set(taken.values)


# Levine 4 and over has a thrill: Freeman & Levine, Ann Intern Med 1933 (second hand).
def test_a_thrill_is_taught_as_a_murmur_of_grade_four() -> None:
    assert "at least grade 4" in CATALOGUE.steps["thrills"].looks_for


# Calf more than 3 cm larger: Wells, Lancet 1997. Aorta of 3 cm and over: Lederle & Simel, JAMA 1999.
def test_thresholds_named_in_the_teaching_text_are_the_published_ones() -> None:
    assert "more than 3 cm larger" in CATALOGUE.steps["calf-circumference"].looks_for
    assert "Wider than about 3 cm" in CATALOGUE.steps["aorta-width"].how
    assert numbers("calf-circumference", 40, "female")[0] < 3


def test_the_body_mass_index_given_follows_from_the_weight_and_height_given() -> None:
    for sex in SEXES:
        kilograms = numbers("weight", 40, sex)[0]
        metres = numbers("height", 40, sex)[0] / 100
        assert numbers("body-mass-index", 40, sex)[0] == round(kilograms / metres**2)
