"""Which findings counted, against evidence.combine."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.domain.debrief.counted import weighed
from casebank.domain.encounter.knowledge import supported
from casebank.domain.encounter.model import Request
from casebank.domain.evidence import posterior
from tests.factories.records import SHIPPED, played, shipped, small

WELL = Request("heart-auscultate", {"site": "apex", "posture": "left-lateral"})


def test_a_lone_murmur_counts_with_its_factor_and_place():
    (one,) = weighed(small(), played(small(), "hand-hygiene", WELL))
    assert (one.finding, one.seq, one.outcome, one.is_counted) == ("murmur", 2, "present", True)
    assert one.factor == pytest.approx(5.4)
    assert one.instead is None


def test_what_tells_nothing_is_not_listed():
    assert weighed(small(), played(small(), "hand-hygiene", "heart-auscultate")) == ()


@pytest.mark.parametrize("name", SHIPPED)
@given(data=st.data())
@settings(max_examples=15)
def test_the_counted_findings_alone_give_the_posterior(name, data):
    case = shipped(name)
    steps = data.draw(st.lists(st.sampled_from(sorted(case.findings_by_step)), max_size=10))
    record = played(case, *steps)
    found = weighed(case, record)
    rows = [case.rows[one.finding, one.outcome] for one in found if one.is_counted]
    again = posterior(case.prior, rows)
    assert again == pytest.approx(supported(case, record.state).posterior, abs=1e-9)


@pytest.mark.parametrize("name", SHIPPED)
def test_of_each_group_exactly_one_counts_and_the_others_name_it(name):
    case = shipped(name)
    found = weighed(case, played(case, *case.findings_by_step))
    groups = {one.group for one in found if one.group}
    for group in groups:
        members = [one for one in found if one.group == group]
        (speaker,) = [one for one in members if one.is_counted]
        assert {one.instead for one in members if not one.is_counted} <= {speaker.finding}
    assert any(not one.is_counted for one in found)
