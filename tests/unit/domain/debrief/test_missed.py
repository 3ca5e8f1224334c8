"""Steps never done: when they were due and what they would have told."""

import pytest

from casebank.domain.debrief.missed import first_due, missed_steps
from casebank.domain.encounter.engine import open_state
from casebank.domain.encounter.knowledge import information_of
from casebank.domain.encounter.model import Request
from casebank.domain.evidence import expected_information
from tests.factories.cases import SMALL_DOCUMENT
from tests.factories.records import SHIPPED, played, shipped, small

WELL = Request("heart-auscultate", {"site": "apex", "posture": "left-lateral"})


def test_nothing_is_missed_when_the_essential_step_was_done():
    assert missed_steps(small(), played(small(), WELL)) == ()


def test_a_missed_step_tells_its_expected_information_by_the_deciding_technique():
    case = small()
    (missed,) = missed_steps(case, played(case, "hand-hygiene"))
    # Nothing was known, so it is the mutual information of the prior and the murmur's table.
    assert missed.bits == pytest.approx(expected_information(case.prior, case.tables["murmur"]))
    assert missed.signs[0].says == "A blowing sound through systole."


def test_it_was_due_once_what_belongs_before_it_was_done():
    case = small()
    (missed,) = missed_steps(case, played(case, "apex-palpate", "hand-hygiene", "apex-palpate"))
    assert (missed.minute, missed.after_seq) == (1.5, 2)


def test_it_was_due_at_once_when_what_belongs_before_it_was_never_done():
    (missed,) = missed_steps(small(), played(small(), "apex-palpate"))
    assert (missed.minute, missed.after_seq) == (0, 0)


def test_a_step_of_a_stage_that_never_came_has_no_moment_and_no_number():
    item = {**SMALL_DOCUMENT["scheme"]["essential"][0], "stages": ["later"]}
    case = small(scheme={**SMALL_DOCUMENT["scheme"], "essential": [item]})
    (missed,) = missed_steps(case, played(case, "hand-hygiene"))
    assert (missed.minute, missed.bits, missed.signs) == (None, None, ())


def test_an_encounter_without_a_request_misses_everything_from_the_start():
    case = shipped(SHIPPED[0])
    record = played(case)
    assert len(missed_steps(case, record)) == len(case.document.scheme.essential)
    start = open_state(case)
    for one in missed_steps(case, record):
        due = first_due(case, record, one.item)
        if due is None:
            assert one.item.stages
            continue
        usual = case.catalogue.steps[one.item.step].full_technique({})
        assert one.bits >= information_of(case, start, one.item.step, usual) - 1e-12


def test_the_heaviest_comes_first():
    case = shipped(SHIPPED[0])
    weights = [one.item.weight for one in missed_steps(case, played(case))]
    assert weights == sorted(weights, reverse=True)
