"""The shipped cases: fit without a doubt, honest for every technique, decided by careful ones."""

from __future__ import annotations

import json

import jsonschema
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.techniques import answer_index, techniques
from casebank.domain.encounter.reveal import reveal
from casebank.domain.evidence import combine
from casebank.domain.examination.conditions import meets
from casebank.domain.examination.model import Method
from tests.factories.shipped import CASES, CATALOGUE, FORM, NIGHT, ROOT, TEXTS, VALVE

EVERY_FINDING = [(name, f) for name, case in CASES.items() for f in case.document.findings]

every_case = pytest.mark.parametrize("name", sorted(TEXTS))


def finding_of(name, finding):
    return next(f for f in CASES[name].document.findings if f.id == finding)


def answer_for(name, finding, said):
    found = finding_of(name, finding)
    made = CATALOGUE.steps[found.step].full_technique(said)
    return found.answers[answer_index(found, made, CATALOGUE)]


def test_three_cases_are_shipped():
    assert {VALVE, NIGHT, FORM} <= set(TEXTS)


@every_case
def test_the_case_check_has_nothing_to_say(name):
    review = check_case(TEXTS[name], CATALOGUE)
    assert review.problems == ()
    assert review.is_fit


@every_case
def test_the_file_is_named_by_its_slug(name):
    assert json.loads(TEXTS[name])["slug"] + ".json" == name


@every_case
def test_an_independent_validator_accepts_the_document_by_the_committed_schema(name):
    schema = json.loads((ROOT / "fixtures" / "case.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(json.loads(TEXTS[name]))


@every_case
def test_the_case_is_as_large_as_a_teaching_case_should_be(name):
    document = CASES[name].document
    assert len(document.findings) >= 18
    assert 10 <= len(document.scheme.essential) <= 16
    assert all(item.why for item in document.scheme.essential)
    assert document.scheme.order
    assert document.teaching.points
    assert document.cautions
    assert any(f.evidence and f.evidence.group for f in document.findings)


@every_case
def test_likelihoods_are_probabilities_that_sum_to_one(name):
    for table in CASES[name].tables.values():
        assert np.all(table >= 0)
        np.testing.assert_allclose(table.sum(axis=0), 1, atol=1e-6)


@pytest.mark.parametrize(
    ("name", "finding"), EVERY_FINDING, ids=[f"{n[:6]}-{f.id}" for n, f in EVERY_FINDING]
)
def test_every_answer_is_given_to_some_technique_and_every_technique_gets_one(name, finding):
    step = CATALOGUE.steps[finding.step]
    slots = {slot for one in finding.answers for slot in one.when}
    got = [answer_index(finding, made, CATALOGUE) for made in techniques(step, slots)]
    assert set(got) == set(range(len(finding.answers)))


@given(data=st.data())
def test_exactly_one_answer_holds_whatever_the_full_technique(data):
    _, finding = data.draw(st.sampled_from(EVERY_FINDING))
    step = CATALOGUE.steps[finding.step]
    made = {slot.slot: data.draw(st.sampled_from(slot.values)) for slot in step.slots}
    place = answer_index(finding, made, CATALOGUE)
    assert meets(made, finding.answers[place].when, CATALOGUE)
    assert not any(meets(made, one.when, CATALOGUE) for one in finding.answers[:place])


BASE = {"site": "aortic-area", "posture": "sitting-forward", "breathing": "held-expiration"}
TIMED = {**BASE, "timing": "carotid"}
BELL = {"site": "apex", "instrument": "bell", "posture": "left-lateral"}
EDGE = {"site": "left-sternal-edge"}
SPLIT = {"site": "pulmonary-area", "breathing": "inspiration"}
DECIDING = [
    # case, finding, careful technique, what it counts as, careless techniques
    (
        VALVE,
        "late-noise",
        TIMED,
        "present",
        [{}, BASE, {**TIMED, "breathing": "quiet"}, {**TIMED, "site": "tricuspid-area"}],
    ),
    (
        VALVE,
        "missing-second",
        BASE,
        "present",
        [{}, {**BASE, "breathing": "quiet"}, {**BASE, "site": "left-sternal-edge"}],
    ),
    (
        VALVE,
        "long-lift",
        {"posture": "left-lateral", "instrument": "finger-pads"},
        "present",
        [{}, {"posture": "left-lateral", "instrument": "flat-hand"}, {"posture": "supine"}],
    ),
    (
        VALVE,
        "hum-below",
        {"site": "apex", "breathing": "held-expiration"},
        "present",
        [{}, {"site": "apex", "breathing": "held-expiration", "instrument": "bell"}],
    ),
    (
        VALVE,
        "slow-upstroke",
        {"posture": "reclined-45"},
        "present",
        [{"posture": "sitting"}],
    ),
    (
        VALVE,
        "over-clavicle",
        {"site": "right-clavicle", "breathing": "held-expiration"},
        "present",
        [{"site": "right-clavicle"}, {}, {"site": "axilla", "breathing": "held-expiration"}],
    ),
    (
        NIGHT,
        "third-beat",
        BELL,
        "present",
        [
            {},
            {**BELL, "instrument": "diaphragm"},
            {**BELL, "posture": "reclined-45"},
            {**BELL, "breathing": "deep"},
            {**BELL, "site": "aortic-area"},
        ],
    ),
    (
        NIGHT,
        "crackles-first",
        {"breathing": "deep", "posture": "sitting-forward"},
        "present",
        [{"breathing": "quiet"}, {"instrument": "bell"}],
    ),
    (
        NIGHT,
        "column-stays",
        {"effort": "firm", "timing": "seconds-10"},
        "present",
        [{"effort": "light"}, {"timing": "untimed"}, {"posture": "supine"}],
    ),
    (
        FORM,
        "twang",
        {**EDGE, "posture": "supine"},
        "short-musical",
        [{}, EDGE, {**EDGE, "posture": "sitting"}, {"posture": "supine"}],
    ),
    (
        FORM,
        "standing",
        {**EDGE, "posture": "standing"},
        "absent",
        [{}, {"posture": "standing"}, EDGE],
    ),
    (
        FORM,
        "straining",
        {**EDGE, "breathing": "valsalva"},
        "absent",
        [{}, {"breathing": "valsalva"}],
    ),
    (
        FORM,
        "moving-split",
        SPLIT,
        "moves",
        [{}, {**SPLIT, "breathing": "quiet"}, {**SPLIT, "breathing": "held-inspiration"}],
    ),
    (
        FORM,
        "legs-on-time",
        {"timing": "simultaneous"},
        "absent",
        [{"timing": "untimed"}],
    ),
]


@pytest.mark.parametrize(
    ("name", "finding", "careful", "outcome", "careless"), DECIDING, ids=[d[1] for d in DECIDING]
)
def test_the_careful_technique_decides_and_the_careless_does_not(
    name, finding, careful, outcome, careless
):
    assert answer_for(name, finding, careful).outcome == outcome
    for said in careless:
        given_to_careless = answer_for(name, finding, said)
        assert given_to_careless.outcome is None, said
        assert given_to_careless.strength != "clear", said


def belief_in_the_truth(name, technique_of):
    """P(truth) after the essential bedside steps of the first stage, done as ``technique_of`` says.

    Tests sent away for are left out: they would settle the matter whatever the hands had done.
    """
    case = CASES[name]
    seen = {}
    for wanted in case.document.scheme.essential:
        step = CATALOGUE.steps[wanted.step]
        if step.method is Method.INVESTIGATION:
            continue
        made = technique_of(step, wanted)
        for found in reveal(case, step.slug, made, case.first_stage).seen:
            if found.outcome:
                seen[found.finding] = found.outcome
    rows = [
        (case.groups[finding], case.rows[finding, outcome]) for finding, outcome in seen.items()
    ]
    beliefs = case.by_diagnosis(combine(case.prior, rows).posterior)
    posterior = dict(zip(case.hypotheses, beliefs, strict=True))
    return sum(posterior[truth] for truth in case.document.truth), posterior


def careful(step, wanted):
    slots = {*wanted.when, *wanted.well}
    return next(
        made
        for made in techniques(step, slots)
        if meets(made, wanted.when, CATALOGUE) and meets(made, wanted.well, CATALOGUE)
    )


def by_default(step, wanted):
    del wanted
    return step.full_technique({})


@every_case
def test_the_essential_steps_done_well_make_the_truth_the_first_hypothesis(name):
    true, posterior = belief_in_the_truth(name, careful)
    others = [p for slug, p in posterior.items() if slug not in CASES[name].document.truth]
    assert true > 0.9
    assert true > max(others)


@every_case
def test_the_essential_steps_done_anyhow_support_the_truth_less(name):
    assert belief_in_the_truth(name, by_default)[0] < belief_in_the_truth(name, careful)[0]


def test_nobody_who_listens_to_the_noisy_heart_is_told_that_it_is_quiet():
    case = CASES[VALVE]
    step = CATALOGUE.steps["auscultate-heart"]
    normal = step.normal_for(case.document.patient.age, case.document.patient.sex)
    for made in techniques(step):
        assert normal not in reveal(case, step.slug, made, case.first_stage).shown, made
