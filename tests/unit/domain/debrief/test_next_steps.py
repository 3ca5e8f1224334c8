"""What would have helped next: value against price."""

import numpy as np
import pytest

from casebank.domain.debrief.next_steps import most_useful_now
from casebank.domain.encounter.engine import open_state
from casebank.domain.encounter.model import Request
from casebank.domain.evidence import most_useful
from tests.factories.cases import SMALL_DOCUMENT
from tests.factories.records import SHIPPED, played, shipped, small

WELL = Request("heart-auscultate", {"site": "apex", "posture": "left-lateral"})


def test_with_nothing_seen_it_ranks_as_evidence_most_useful_does():
    case = small()
    tables = np.array([case.tables["murmur"], case.tables["displaced-apex"]])
    steps = ("heart-auscultate", "apex-palpate")
    prices = [case.catalogue.steps[step].price for step in steps]
    expected = most_useful(case.prior, tables, prices)
    found = most_useful_now(case, open_state(case))
    assert [one.step for one in found] == [steps[ranked.index] for ranked in expected]
    assert [one.bits for one in found] == pytest.approx([r.information for r in expected])
    assert [one.per_price for one in found] == pytest.approx([r.per_price for r in expected])


def test_what_was_found_is_not_offered_again():
    state = played(small(), WELL).state
    assert [one.step for one in most_useful_now(small(), state)] == ["apex-palpate"]


def test_a_step_is_offered_by_the_technique_that_tells_most():
    first = most_useful_now(small(), open_state(small()))
    way = {one.step: one.technique for one in first}
    assert way["heart-auscultate"]["posture"] == "left-lateral"


def test_what_is_contraindicated_now_is_not_offered_by_that_technique():
    unsafe = [{"step": "apex-palpate", "why": "It hurts her."}]
    case = small(scheme={**SMALL_DOCUMENT["scheme"], "unsafe": unsafe})
    assert [one.step for one in most_useful_now(case, open_state(case))] == ["heart-auscultate"]
    unsafe[0]["when"] = {"effort": "firm"}
    case = small(scheme={**SMALL_DOCUMENT["scheme"], "unsafe": unsafe})
    offered = {one.step: one.technique for one in most_useful_now(case, open_state(case))}
    assert offered["apex-palpate"]["effort"] == "light"


@pytest.mark.parametrize("name", SHIPPED)
def test_the_best_come_first(name):
    case = shipped(name)
    rates = [one.per_price for one in most_useful_now(case, open_state(case), most=99)]
    assert rates == sorted(rates, reverse=True)
    assert len(most_useful_now(case, open_state(case))) <= 5
