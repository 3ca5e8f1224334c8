"""Items of a scheme met by plain requests, against the marking of the same record."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.domain.debrief.items import items_done
from casebank.domain.marking.doing import coverage
from tests.factories.records import SHIPPED, played, shipped, small


@pytest.mark.parametrize("name", SHIPPED)
@given(data=st.data())
@settings(max_examples=10)
def test_what_counts_as_done_is_what_the_coverage_mark_counts(name, data):
    case = shipped(name)
    steps = [item.step for item in case.document.scheme.essential]
    record = played(case, *data.draw(st.lists(st.sampled_from(steps), max_size=8)))
    found = items_done(case, [line.payload for line in record.requests()])
    earned = [point.earned > 0 for point in coverage(case, record).points]
    assert [one.is_done for one in found] == earned


def test_done_and_done_well_are_told_apart():
    usual = {"step": "heart-auscultate", "stage": "start"}
    flat = {**usual, "technique": {"site": "apex", "posture": "supine"}}
    well = {**usual, "technique": {"site": "apex", "posture": "left-lateral"}}
    assert [one.is_well for one in items_done(small(), [flat])] == [False]
    assert [one.is_well for one in items_done(small(), [flat, well])] == [True]
    assert [one.is_done for one in items_done(small(), [])] == [False]
