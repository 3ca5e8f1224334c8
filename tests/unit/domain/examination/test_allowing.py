"""A treatment is given where it is named, and never where it may be one to stop or only asked of."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_catalogue, load_resolver
from casebank.domain.examination.allowing import GIVEN
from casebank.domain.examination.model import Method


def given(text):
    steps = load_catalogue().steps
    found = load_resolver().resolve(text).requests
    return [one.step for one in found if steps[one.step].method is Method.TREAT]


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("chest pain's back, so, um, spray, the glyceryl trinitrate spray please", "give-nitrate"),
        ("pulmonary oedema isn't it, so, er, forty of frusemide IV", "give-diuretic"),
        ("stop the ramipril and give furosemide 40 mg iv", "give-diuretic"),
        ("no iv access yet, so buccal midazolam", "give-anticonvulsant"),
        ("how about giving paracetamol", "give-analgesia"),
    ],
)
def test_a_drug_named_among_other_words_is_given(text, step):
    assert step in given(text)


@pytest.mark.parametrize(
    "text",
    [
        "AKI - hold ramipril + naproxen",
        "hold the naproxen",
        "withhold her furosemide today",
        "is he on aspirin?",
        "do you take any painkillers?",
        "no antibiotics for the moment, it looks viral",
        "no more iv fluids",
        "when did you last inject your insulin",
        "what do you take for the pain, paracetamol?",
        "what dose of furosemide is usually given in acute pulmonary oedema",
        "she takes furosemide 40 mg",
        "reverse the warfarin with vitamin K",
    ],
)
def test_a_drug_to_be_stopped_or_asked_about_is_not_given(text):
    assert not [step for step in given(text) if step.startswith(GIVEN)]


@pytest.mark.parametrize("text", ["stop CPR", "no CPR", "no more CPR please"])
def test_what_is_to_be_stopped_is_not_begun(text):
    assert given(text) == []


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("no pulse start CPR", "start-resuscitation"),
        ("no improvement, give furosemide 40 mg iv", "give-diuretic"),
    ],
)
def test_what_is_begun_beside_a_denial_is_given(text, step):
    assert given(text) == [step]


def test_every_step_that_gives_something_is_called_so():
    treatments = [one for one in load_catalogue().steps.values() if one.method is Method.TREAT]
    gives = [one for one in treatments if one.label.startswith("Give ")]
    assert len(gives) > 10
    assert all(one.slug.startswith(GIVEN) for one in gives)
