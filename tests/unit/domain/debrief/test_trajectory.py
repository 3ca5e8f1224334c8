"""Belief step by step: it starts at the prior, ends where evidence.combine ends, and is charted."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.domain.debrief.trajectory import most_telling, trajectory
from casebank.domain.encounter.knowledge import outcomes_seen
from casebank.domain.encounter.model import Request
from casebank.domain.evidence import combine
from tests.factories.records import SHIPPED, played, shipped, small

WELL = Request("heart-auscultate", {"site": "apex", "posture": "left-lateral"})
FIRM = Request("apex-palpate", {"effort": "firm"})


def combined_by_hand(case, state):
    seen = [
        (case.groups[finding], case.rows[finding, outcome])
        for finding, outcome in outcomes_seen(state).items()
        if (finding, outcome) in case.rows
    ]
    return case.by_diagnosis(combine(case.prior, seen).posterior)


def test_it_starts_at_the_prior_and_has_a_point_for_every_request():
    run = trajectory(small(), played(small(), "hand-hygiene", WELL))
    assert run.supported[0].posterior == pytest.approx((0.625, 0.375))
    assert [one.seq for one in run.supported] == [0, 1, 2]
    assert [one.minute for one in run.supported] == [0, 0.5, 2.5]


def test_a_murmur_moves_belief_by_bayes():
    # By hand: odds 0.625/0.375 x 5.4 = 9, so 0.9.
    run = trajectory(small(), played(small(), WELL))
    assert run.final[0] == pytest.approx(0.9)


def test_what_was_stated_stands_beside_it_with_zero_for_what_was_not_named():
    record = played(small(), {"aortic-stenosis": 0.4}, WELL, end={"mitral-regurgitation": 0.8})
    run = trajectory(small(), record)
    assert run.said_of("mitral-regurgitation") == ((0.0, 0.0), (2.0, 0.8))
    assert run.run_of("mitral-regurgitation")[-1] == (2.0, pytest.approx(0.9))


@pytest.mark.parametrize("name", SHIPPED)
@given(data=st.data())
@settings(max_examples=15)
def test_the_last_point_is_what_evidence_combine_gives(name, data):
    case = shipped(name)
    steps = data.draw(st.lists(st.sampled_from(sorted(case.findings_by_step)), max_size=8))
    record = played(case, *steps)
    run = trajectory(case, record)
    assert run.final == pytest.approx(tuple(combined_by_hand(case, record.state)), abs=1e-12)
    for one in run.supported:
        assert sum(one.posterior) == pytest.approx(1)


@pytest.mark.parametrize("name", SHIPPED)
def test_at_most_four_lines_are_drawn_and_the_truth_is_the_first(name):
    case = shipped(name)
    run = trajectory(case, played(case, *list(case.findings_by_step)[:4]))
    shown = most_telling(case, run)
    assert 2 <= len(shown) <= 4
    assert shown[: len(case.document.truth)] == case.document.truth


def test_the_two_most_believed_are_drawn_by_the_students_last_word():
    case = shipped("form-for-the-rowing-club")
    said = {"mitral-valve-prolapse": 0.5, "ventricular-septal-defect": 0.4}
    run = trajectory(case, played(case, end=said))
    assert set(said) < set(most_telling(case, run))


def test_while_there_is_room_what_was_ever_likeliest_is_drawn_too():
    case = shipped("bed-nine-at-three")
    run = trajectory(case, played(case, end={"heart-failure": 0.6, "pulmonary-oedema": 0.3}))
    shown = most_telling(case, run)
    assert len(shown) == 4
    peaks = {name: max(p for _, p in run.run_of(name)) for name in run.hypotheses}
    left_out = max(peaks[name] for name in run.hypotheses if name not in shown)
    assert peaks["pneumonia"] > left_out
    assert "pneumonia" in shown
