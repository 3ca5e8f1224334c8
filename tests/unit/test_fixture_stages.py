"""The shipped case that moves: the breathless man worsens, eases, and hides signs meanwhile."""

from __future__ import annotations

import pytest

from casebank.domain.casefile.techniques import techniques
from casebank.domain.encounter.engine import answer, open_state
from casebank.domain.encounter.model import Request
from casebank.domain.encounter.reveal import reveal
from tests.factories.shipped import CASES, CATALOGUE, NIGHT

BELL = {"site": "apex", "instrument": "bell", "posture": "left-lateral"}


@pytest.mark.parametrize("stage", ["propped-up", "tiring"])
@pytest.mark.parametrize("slug", ["lung-bases-listen", "breath-sounds"])
def test_nobody_who_listens_to_the_drowning_lungs_is_told_that_they_are_clear(stage, slug):
    case = CASES[NIGHT]
    step = CATALOGUE.steps[slug]
    normal = step.normal_for(case.document.patient.age, case.document.patient.sex)
    for made in techniques(step):
        assert normal not in reveal(case, slug, made, stage).shown, made


def stage_after(*requests):
    state = open_state(CASES[NIGHT])
    for step, said in requests:
        _, state = answer(CASES[NIGHT], state, Request(step, said))
    return state.stage


def test_the_breathless_man_tires_while_nothing_is_done_for_him():
    look = ("jvp-height", {})
    assert stage_after(*[look] * 8) == "propped-up"
    assert stage_after(*[look] * 9) == "tiring"


@pytest.mark.parametrize(
    "act",
    [
        ("sit-up", {}),
        ("position-patient", {"posture": "sitting"}),
        ("give-oxygen", {}),
        ("start-cpap", {}),
    ],
)
def test_sitting_up_or_oxygen_eases_him_and_a_diuretic_dries_him(act):
    assert stage_after(act) == "sat-up"
    assert stage_after(act, ("give-diuretic", {})) == "drying-out"


@pytest.mark.parametrize(
    "act",
    [("lay-flat", {}), ("position-patient", {"posture": "supine"}), ("give-fluids", {})],
)
def test_lying_flat_or_more_fluid_makes_him_worse(act):
    assert stage_after(act) == "tiring"


def test_repositioning_him_at_45_degrees_changes_nothing():
    assert stage_after(("position-patient", {"posture": "reclined-45"})) == "propped-up"


def test_the_third_sound_is_lost_while_he_tires_and_returns_when_he_eases():
    case = CASES[NIGHT]
    made = CATALOGUE.steps["auscultate-heart"].full_technique(BELL)
    counts = {
        stage: {s.outcome for s in reveal(case, "auscultate-heart", made, stage).seen}
        for stage in case.stages
    }
    assert counts == {
        "propped-up": {"present"},
        "tiring": {None},
        "sat-up": {"present"},
        "drying-out": {"present"},
    }
