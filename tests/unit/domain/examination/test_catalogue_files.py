"""Every file of fixtures/catalogue: complete, without contradiction, each step told from others."""

from __future__ import annotations

import re
import tomllib
from collections import defaultdict
from pathlib import Path

import pytest

from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.model import Method, Need, Step

FOLDER = Path(__file__).parents[4] / "fixtures" / "catalogue"
TEXTS = {path.name: path.read_text(encoding="utf-8") for path in sorted(FOLDER.glob("*.toml"))}
CATALOGUE = parse_catalogue(TEXTS)
OURS = ("general.toml", "cardiovascular.toml", "investigations.toml", "treatments.toml")
SLUGS = {
    name: [step["slug"] for step in tomllib.loads(TEXTS[name]).get("step", [])] for name in TEXTS
}
BASIC = [CATALOGUE.steps[slug] for name in OURS for slug in SLUGS[name]]
TOUCHES = {Method.PALPATE, Method.PERCUSS, Method.AUSCULTATE}


def by_slug(step: Step) -> str:
    return step.slug


@pytest.mark.parametrize("name", sorted(TEXTS))
def test_a_file_holds_something_and_only_blocks_that_are_read(name: str) -> None:
    data = tomllib.loads(TEXTS[name])
    assert set(data) <= {"system", "step", "value", "diagnosis", "family", "feature", "sign"}
    assert set(data) & {"step", "value", "diagnosis", "sign"}
    known = {field.name for field in Step.__dataclass_fields__.values()} | {"technique"}
    for step in data.get("step", []):
        assert set(step) <= known - {"slots"}, step["slug"]


def test_no_synonym_stands_on_two_steps() -> None:
    owners = defaultdict(set)
    for step in CATALOGUE.steps.values():
        for synonym in step.synonyms:
            owners[" ".join(synonym.casefold().split())].add(step.slug)
    assert {words: who for words, who in owners.items() if len(who) > 1} == {}


def test_no_step_takes_two_values_that_are_said_with_the_same_phrase() -> None:
    # Two systems may use one phrase for places of their own: the step tells which is meant.
    owners = defaultdict(set)
    for step in CATALOGUE.steps.values():
        for slot in step.slots:
            for value in slot.values:
                for phrase in CATALOGUE.value(slot.slot, value).phrases:
                    words = " ".join(phrase.casefold().split())
                    owners[step.slug, slot.slot, words].add(value)
    assert {place: who for place, who in owners.items() if len(who) > 1} == {}


def test_no_name_stands_on_two_diagnoses() -> None:
    owners = defaultdict(set)
    for found in CATALOGUE.diagnoses.values():
        for name in (found.label, *found.synonyms):
            owners[name.casefold()].add(found.slug)
    assert {name: who for name, who in owners.items() if len(who) > 1} == {}


def test_no_two_steps_have_the_same_label() -> None:
    labels = [step.label.casefold() for step in CATALOGUE.steps.values()]
    assert sorted(labels) == sorted(set(labels))


def test_there_are_at_least_a_hundred_basic_steps_and_a_hundred_diagnoses() -> None:
    assert len(BASIC) >= 100
    assert len(CATALOGUE.diagnoses) >= 100


@pytest.mark.parametrize("need", list(Need))
def test_every_need_can_be_met(need: Need) -> None:
    assert [step.slug for step in CATALOGUE.steps.values() if step.provides is need]


@pytest.mark.parametrize("step", BASIC, ids=by_slug)
def test_a_basic_step_is_complete(step: Step) -> None:
    assert len(set(step.synonyms)) >= 8
    assert 0.25 <= step.minutes <= 5
    assert step.minutes * 4 == int(step.minutes * 4)
    assert 2 <= len(re.findall(r"[.?!](?=\s|$)", step.how)) <= 5
    for text in (step.looks_for, step.how, *(normal.text for normal in step.normal)):
        assert text.endswith("."), text


@pytest.mark.parametrize("step", BASIC, ids=by_slug)
def test_a_basic_step_has_no_wording_that_can_never_be_given(step: Step) -> None:
    given = (
        {step.normal_for(age, sex) for age in range(111) for sex in ("female", "male")}
        if (step.normal)
        else set()
    )
    assert given == {normal.text for normal in step.normal}


@pytest.mark.parametrize("step", [step for step in BASIC if step.method in TOUCHES], ids=by_slug)
def test_whoever_touches_needs_clean_hands_and_consent(step: Step) -> None:
    assert {Need.HYGIENE, Need.CONSENT} <= step.needs


@pytest.mark.parametrize("step", [step for step in BASIC if step.parts], ids=by_slug)
def test_a_composite_lasts_as_long_as_its_parts_and_hurts_as_much_as_the_worst(step: Step) -> None:
    parts = [CATALOGUE.steps[part] for part in step.parts]
    assert step.minutes == sum(part.minutes for part in parts)
    assert step.resource == sum(part.resource for part in parts)
    assert step.discomfort == max(part.discomfort for part in parts)
    assert step.needs == {need for part in parts for need in part.needs} - {
        part.provides for part in parts
    }


def test_asking_touches_nothing_and_costs_only_time() -> None:
    asked = [step for step in BASIC if step.method is Method.ASK]
    assert len(asked) >= 20
    assert all(not step.needs and not step.discomfort and not step.resource for step in asked)


def test_every_investigation_costs_more_than_time_and_more_where_the_machine_is_dearer() -> None:
    tests = [step for step in BASIC if step.method is Method.INVESTIGATION]
    assert all(step.resource > 0 for step in tests)
    resource = {step.slug: step.resource for step in tests}
    assert resource["echocardiogram"] == 12
    assert resource["chest-film"] == 6
    assert resource["ecg"] == 2
