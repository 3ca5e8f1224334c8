"""Intervals around the posterior, where the document has intervals of its ratios."""

from copy import deepcopy

import pytest
from pydantic import ValidationError

from casebank.domain.debrief.certainty import DRAWS, SEED, certainty_of
from casebank.domain.debrief.counted import weighed
from casebank.domain.encounter.knowledge import supported_diagnoses
from casebank.domain.encounter.model import Request
from casebank.domain.evidence import posterior, posterior_interval
from casebank.domain.evidence.ratios import Ratio
from tests.factories.cases import SMALL_DOCUMENT
from tests.factories.records import SHIPPED, played, shipped, small

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


def test_a_table_is_taken_as_exact_and_named_beside_a_ratio_that_has_an_interval():
    case = with_interval(3.0, 9.72)
    seen = weighed(case, played(case, WELL, FIRM))
    found = certainty_of(case, seen)
    assert found.without == ("displaced-apex",)
    table = case.rows["displaced-apex", seen[1].outcome]
    moved = posterior([0.625, 0.375], [table])[0]
    expected = posterior_interval(moved, [Ratio(5.4, 3.0, 9.72)], seed=SEED, draws=DRAWS)
    assert found.intervals["mitral-regurgitation"] == pytest.approx(
        (expected.ci_low, expected.ci_high)
    )


def test_the_interval_holds_the_posterior_and_only_doubt_widens_it():
    wide, narrow = with_interval(1.2, 24.3), with_interval(4.8, 6.1)
    spans = []
    for case in (wide, narrow):
        record = played(case, WELL, FIRM)
        low, high = certainty_of(case, weighed(case, record)).intervals["mitral-regurgitation"]
        assert low < supported_diagnoses(case, record.state)[0] < high
        spans.append(high - low)
    assert spans[0] > 3 * spans[1]


def accurate(**numbers):
    findings = deepcopy(SMALL_DOCUMENT["findings"])
    evidence = findings[0]["evidence"]
    targets = evidence.pop("ratios")["targets"]
    evidence["accuracy"] = {"targets": targets, **numbers}
    return small(findings=findings)


def test_sensitivity_and_specificity_with_intervals_give_one_too():
    numbers = {"sensitivity": 0.68, "specificity": 0.833}
    spans = {"sensitivity_interval": [0.533, 0.805], "specificity_interval": [0.586, 0.964]}
    case = accurate(**numbers, **spans)
    found = certainty_of(case, weighed(case, played(case, WELL)))
    low, high = found.intervals["mitral-regurgitation"]
    assert found.without == ()
    # Reduced fremitus, Ultrasound J 2021;13:40, table 3 (34 of 50, 15 of 18): LR+ 4.08 with the
    # log interval 1.43-11.7. The two ways of drawing agree to a few points of a hundred.
    published = posterior_interval(0.625, [Ratio(4.08, 1.43, 11.7)], seed=SEED, draws=DRAWS)
    assert (low, high) == pytest.approx((published.ci_low, published.ci_high), abs=0.05)


def test_accuracy_without_intervals_is_named():
    case = accurate(sensitivity=0.68, specificity=0.833)
    found = certainty_of(case, weighed(case, played(case, WELL)))
    assert (found.is_known, found.without) == (False, ("murmur",))


@pytest.mark.parametrize("name", SHIPPED)
def test_every_shipped_case_can_say_how_sure_it_is_or_why_not(name):
    case = shipped(name)
    record = played(case, *sorted(case.findings_by_step))
    found = certainty_of(case, weighed(case, record))
    counted = {one.finding for one in weighed(case, record) if one.is_counted}
    assert set(found.without) <= counted
    assert found.is_known == (set(found.without) != counted)
    final = dict(zip(case.hypotheses, supported_diagnoses(case, record.state), strict=True))
    for diagnosis, (low, high) in found.intervals.items():
        assert low - 1e-9 <= final[diagnosis] <= high + 1e-9


def test_the_two_cases_with_published_ratios_give_an_interval_for_the_truth():
    for name in SHIPPED[:2]:
        case = shipped(name)
        record = played(case, *sorted(case.findings_by_step))
        found = certainty_of(case, weighed(case, record))
        assert all(found.intervals[truth][0] < found.intervals[truth][1]
                   for truth in case.document.truth)  # fmt: skip


def test_nothing_seen_leaves_nothing_to_be_sure_of():
    assert not certainty_of(small(), ()).is_known


@pytest.mark.parametrize("span", [(6.0, 9.0), (0.0, 9.0), (2.0, 3.0)])
def test_an_interval_that_does_not_hold_its_ratio_is_refused(span):
    with pytest.raises(ValidationError):
        with_interval(*span)
