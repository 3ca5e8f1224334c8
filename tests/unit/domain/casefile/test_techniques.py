"""The techniques of a step, enumerated, and the one answer each of them gets."""

from __future__ import annotations

from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.casefile.techniques import (
    answer_index,
    count_techniques,
    is_possible,
    techniques,
)


def test_every_value_of_the_listed_slots_is_tried_and_others_keep_their_default(catalogue):
    step = catalogue.steps["listen"]
    assert len(list(techniques(step))) == 4
    assert list(techniques(step, ["site"])) == [
        {"site": "apex", "posture": "sitting"},
        {"site": "base", "posture": "sitting"},
    ]
    assert list(techniques(catalogue.steps["drug"])) == [{}]


def test_the_count_is_the_number_enumerated(catalogue):
    for step in catalogue.steps.values():
        slots = [slot.slot for slot in step.slots]
        assert count_techniques(step, slots) == len(list(techniques(step, slots)))


def test_the_first_answer_that_fits_is_given(good, catalogue):
    blow = CaseDocument.model_validate(good).findings[0]
    places = [answer_index(blow, made, catalogue) for made in techniques(catalogue.steps["listen"])]
    assert places == [0, 1, 2, 2]


def test_conditions_that_contradict_each_other_are_impossible(catalogue):
    step = catalogue.steps["listen"]
    assert is_possible(step, catalogue, {"site": "apex"}, {"posture": "supine"})
    assert not is_possible(step, catalogue, {"site": "apex"}, {"site": "base"})
