"""Intervals around the posterior, where the document has intervals of its ratios."""

from copy import deepcopy

import pytest
from pydantic import ValidationError

from casebank.domain.debrief.certainty import DRAWS, SEED, certainty_of
from casebank.domain.debrief.counted import weighed
from casebank.domain.encounter.model import Request
from casebank.domain.evidence import posterior_interval
from casebank.domain.evidence.ratios import Ratio
from tests.factories.cases import SMALL_DOCUMENT
from tests.factories.records import played, small

WELL = Request("heart-auscultate", {"site": "apex", "posture": "left-lateral"})
FIRM = Request("apex-palpate", {"effort": "firm"})


def with_interval(*span):
    findings = deepcopy(SMALL_DOCUMENT["findings"])
    findings[0]["evidence"]["ratios"]["positive_interval"] = list(span)
    return small(findings=findings)


def test_one_target_gives_the_interval_of_evidence_posterior_interval():
    case = with_interval(3.0, 9.72)
    found = certainty_of(case, weighed(case, played(case, WELL)))
    expected = posterior_interval(0.625, [Ratio(5.4, 3.0, 9.72)], seed=SEED, draws=DRAWS)
    assert found.intervals["mitral-regurgitation"] == pytest.approx(
        (expected.ci_low, expected.ci_high)
    )
    low, high = found.intervals["aortic-stenosis"]
    assert (1 - high, 1 - low) == pytest.approx((expected.ci_low, expected.ci_high))


def test_a_ratio_without_an_interval_leaves_it_unknown_and_is_named():
    found = certainty_of(small(), weighed(small(), played(small(), WELL)))
    assert not found.is_known
    assert found.without == ("murmur",)


def test_a_table_has_no_interval_and_is_named_beside_a_ratio_that_has_one():
    case = with_interval(3.0, 9.72)
    found = certainty_of(case, weighed(case, played(case, WELL, FIRM)))
    assert not found.is_known
    assert found.without == ("displaced-apex",)


def test_nothing_seen_leaves_nothing_to_be_sure_of():
    assert not certainty_of(small(), ()).is_known


@pytest.mark.parametrize("span", [(6.0, 9.0), (0.0, 9.0), (2.0, 3.0)])
def test_an_interval_that_does_not_hold_its_ratio_is_refused(span):
    with pytest.raises(ValidationError):
        with_interval(*span)
