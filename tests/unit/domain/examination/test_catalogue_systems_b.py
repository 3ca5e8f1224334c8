"""Nerves, joints, skin and mental state in fixtures/catalogue: complete, and true to their sources."""

from __future__ import annotations

import re
import tomllib
from itertools import product
from pathlib import Path

import pytest

from casebank.domain.examination.catalogue import AGES, SEXES, parse_catalogue
from casebank.domain.examination.model import Method, Need, Step

FOLDER = Path(__file__).parents[4] / "fixtures" / "catalogue"
TEXTS = {path.name: path.read_text(encoding="utf-8") for path in sorted(FOLDER.glob("*.toml"))}
CATALOGUE = parse_catalogue(TEXTS)
OURS = (
    "cranial-nerves.toml",
    "limbs-nervous.toml",
    "musculoskeletal.toml",
    "skin-nodes.toml",
    "mental-state.toml",
)
SLUGS = {name: [step["slug"] for step in tomllib.loads(TEXTS[name])["step"]] for name in OURS}
STEPS = [CATALOGUE.steps[slug] for name in OURS for slug in SLUGS[name]]
SIMPLE = [step for step in STEPS if not step.parts]
COMPOSITES = [step for step in STEPS if step.parts]
TOUCHES = {Method.PALPATE, Method.PERCUSS, Method.AUSCULTATE}
ROOTS = {"biceps-jerk": "C5, C6", "triceps-jerk": "C7", "knee-jerk": "L3, L4", "ankle-jerk": "S1"}


def by_slug(step: Step) -> str:
    return step.slug


def given(step: Step) -> set[str]:
    """Every normal wording some person of 0 to 110 is given."""
    return {step.normal_for(age, sex) for age, sex in product(AGES, SEXES)}


def numbers(text: str) -> list[float]:
    return [float(number) for number in re.findall(r"\d+(?:\.\d+)?", text)]


@pytest.mark.parametrize("name", OURS)
def test_a_file_holds_dozens_of_steps_and_its_own_investigations(name: str) -> None:
    steps = [CATALOGUE.steps[slug] for slug in SLUGS[name]]
    assert len(steps) >= 40
    assert sum(step.method is Method.INVESTIGATION for step in steps) >= 5
    assert sum(bool(step.parts) for step in steps) >= 4


@pytest.mark.parametrize("step", STEPS, ids=by_slug)
def test_a_step_is_complete(step: Step) -> None:
    assert len(set(step.synonyms)) == len(step.synonyms) >= 8
    assert step.minutes * 4 == int(step.minutes * 4)
    assert 2 <= len(re.findall(r"[.?!](?=\s|$)", step.how)) <= 5
    for text in (step.looks_for, step.how, *(normal.text for normal in step.normal)):
        assert text.endswith("."), text


@pytest.mark.parametrize("step", SIMPLE, ids=by_slug)
def test_a_simple_step_takes_at_most_five_minutes_and_gives_each_of_its_wordings(
    step: Step,
) -> None:
    assert 0.25 <= step.minutes <= 5
    assert given(step) == {normal.text for normal in step.normal}


@pytest.mark.parametrize("step", COMPOSITES, ids=by_slug)
def test_a_composite_adds_up_its_parts(step: Step) -> None:
    parts = [CATALOGUE.steps[part] for part in step.parts]
    assert step.minutes == sum(part.minutes for part in parts)
    assert step.resource == sum(part.resource for part in parts)
    assert step.discomfort == max(part.discomfort for part in parts)
    assert step.needs == {need for part in parts for need in part.needs} - {
        part.provides for part in parts
    }


@pytest.mark.parametrize("step", [step for step in STEPS if step.method in TOUCHES], ids=by_slug)
def test_whoever_touches_needs_clean_hands_and_consent(step: Step) -> None:
    assert {Need.HYGIENE, Need.CONSENT} <= step.needs


def test_asking_touches_nothing_and_costs_only_time() -> None:
    asked = [step for step in STEPS if step.method is Method.ASK]
    assert asked
    for step in asked:
        assert not step.needs, step.slug
        assert not step.discomfort, step.slug
        assert not step.resource, step.slug


def test_every_investigation_costs_more_than_time() -> None:
    tests = [step for step in STEPS if step.method is Method.INVESTIGATION]
    assert all(step.resource > 0 and step.region == "tests" for step in tests)


@pytest.mark.parametrize("slug", ["breast-examination", "skin-survey", "mucosa-skin-disease"])
def test_a_step_that_bares_the_body_asks_for_a_chaperone(slug: str) -> None:
    assert Need.CHAPERONE in CATALOGUE.steps[slug].needs


@pytest.mark.parametrize("slot", ["relaxed", "reinforced"])
def test_every_jerk_of_a_limb_takes_a_side_and_can_be_reinforced(slot: str) -> None:
    for slug in ("biceps-jerk", "triceps-jerk", "supinator-jerk", "knee-jerk", "ankle-jerk"):
        step = CATALOGUE.steps[slug]
        effort, side = step.slot("effort"), step.slot("side")
        assert effort is not None, slug
        assert side is not None, slug
        assert slot in effort.values, slug
        assert side.values == ("both", "left", "right"), slug
        assert effort.default == "relaxed", slug


# Roots as taught in O'Brien, Aids to the Examination of the Peripheral Nervous System (from memory).
@pytest.mark.parametrize("slug", ROOTS)
def test_a_lost_jerk_names_its_root(slug: str) -> None:
    assert ROOTS[slug] in CATALOGUE.steps[slug].looks_for


# Teasdale & Jennett, Lancet 1974: eyes 4 to 1, verbal 5 to 1, motor 6 to 1, total 3 to 15;
# 8 or less is severe.
@pytest.mark.parametrize(
    ("slug", "scores"),
    [
        ("gcs-eyes", [4, 3, 2, 1]),
        ("gcs-verbal", [5, 4, 3, 2, 1]),
        ("gcs-motor", [6, 5, 4, 3, 2, 1]),
    ],
)
def test_a_part_of_the_coma_scale_lists_its_scores_from_best_to_none(
    slug: str, scores: list[int]
) -> None:
    step = CATALOGUE.steps[slug]
    assert numbers(step.looks_for) == scores
    assert all(numbers(text) == scores[:1] for text in given(step))


def test_the_coma_scale_runs_from_three_to_fifteen() -> None:
    whole = CATALOGUE.steps["glasgow-coma-scale"]
    parts = [CATALOGUE.steps[part] for part in whole.parts]
    scores = [numbers(part.looks_for) for part in parts]
    assert sum(max(part) for part in scores) == 15
    assert sum(min(part) for part in scores) == 3
    assert numbers(whole.looks_for) == [15, 3, 8]


def test_the_coma_scale_can_be_scored_in_someone_who_cannot_consent() -> None:
    assert CATALOGUE.steps["glasgow-coma-scale"].needs == {Need.HYGIENE}


# Common practice, no source: an upgoing toe is expected before walking, and a loss after.
def test_the_toe_goes_up_only_in_infancy() -> None:
    plantar = CATALOGUE.steps["plantar-response"]
    for sex in SEXES:
        assert plantar.normal_for(0, sex).startswith("Extensor")
        assert all(plantar.normal_for(age, sex).startswith("Flexor") for age in range(2, 111))


# Miller, Psychol Rev 1956: seven plus or minus two.
def test_the_span_of_digits_of_a_healthy_adult_is_seven_give_or_take_two() -> None:
    span = CATALOGUE.steps["digit-span"]
    for age, sex in product(range(16, 111), SEXES):
        assert 5 <= numbers(span.normal_for(age, sex))[0] <= 9


def test_no_healthy_adult_loses_strength_on_the_grading_scale() -> None:
    power = [step for step in SIMPLE if step.slug.startswith("power-")]
    assert len(power) >= 18
    for step, age, sex in product(power, range(5, 111), SEXES):
        assert step.normal_for(age, sex).startswith("5/5"), step.slug


# Modified Schober: 5 cm or more is normal (from memory).
def test_the_healthy_lumbar_spine_stretches_by_five_centimetres_or_more() -> None:
    measure = CATALOGUE.steps["lumbar-flexion-measure"]
    for age, sex in product(range(5, 111), SEXES):
        assert numbers(measure.normal_for(age, sex))[0] >= 5


# WHO: osteoporosis from a T-score of -2.5, normal from -1.0 (from memory).
def test_no_normal_bone_scan_is_thin_bone() -> None:
    scan = CATALOGUE.steps["bone-density"]
    for age, sex in product(range(20, 111), SEXES):
        (score,) = numbers(scan.normal_for(age, sex))
        assert score <= 1.0
