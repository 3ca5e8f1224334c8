"""Marks of a replayed log."""

from __future__ import annotations

from dataclasses import replace

import pytest

from casebank.domain.encounter.engine import answer, conclude, open_state
from casebank.domain.encounter.model import Entry, Request
from casebank.domain.marking import MARKING_VERSION, mark

CLEAN = Request("hand-hygiene")
WELL = Request("heart-auscultate", {"site": "apex", "posture": "left-lateral"})
CARELESS = Request("heart-auscultate", {"site": "apex"})


def log_of(case, *requests, differential=None, state=None):
    state, entries = state or open_state(case), []
    for request in requests:
        payload, state = answer(case, state, request)
        entries.append(Entry(state.last_seq, "request", payload))
    if differential is not None:
        payload, state = conclude(case, state, differential, "Found.", "")
        entries.append(Entry(state.last_seq, "conclusion", payload))
    return entries


def scores(case, *requests, differential=None):
    marks = mark(case, log_of(case, *requests, differential=differential))
    return {domain.domain: domain.score for domain in marks.domains}


def test_a_careful_encounter_earns_everything(small):
    found = scores(
        small, CLEAN, WELL, differential={"mitral-regurgitation": 0.9, "aortic-stenosis": 0.1}
    )
    assert found == pytest.approx(
        {
            "coverage": 100,
            "technique": 100,
            "order": 100,
            "interpretation": None,  # this patient has nothing to be named by ear
            "reasoning": 100,
            "economy": 100,
            "safety": 100,
        },
        abs=1e-3,
    )


def test_an_essential_step_left_out_is_lost(small):
    assert scores(small, CLEAN)["coverage"] == 0


def test_a_careless_technique_is_covered_but_not_done_well(small):
    found = scores(small, CLEAN, CARELESS)
    assert (found["coverage"], found["technique"]) == (100, 0)


def test_technique_of_what_was_not_done_is_not_marked(small):
    assert scores(small, CLEAN)["technique"] is None


def test_the_wrong_order_is_lost(small):
    assert scores(small, WELL, CLEAN)["order"] == 0


def test_surcharge_eats_economy(small):
    found = scores(small, CLEAN, WELL, WELL)
    assert found["economy"] == pytest.approx(100 * (1 - 2 / 12.5))


def test_no_differential_is_no_reasoning(small):
    assert scores(small, CLEAN)["reasoning"] == 0


def test_whoever_states_what_the_evidence_supports_reasons_best(small):
    sound = scores(
        small, CLEAN, WELL, differential={"mitral-regurgitation": 0.9, "aortic-stenosis": 0.1}
    )
    rash = scores(small, CLEAN, WELL, differential={"mitral-regurgitation": 1.0})
    wrong = scores(small, CLEAN, WELL, differential={"aortic-stenosis": 1.0})
    assert sound["reasoning"] > rash["reasoning"] > wrong["reasoning"]


def test_a_contraindicated_step_caps_the_total(small):
    later = replace(open_state(small), stage="later")
    payload, _ = answer(small, later, Request("apex-palpate", {"effort": "firm"}))
    assert payload["flags"] == ["It hurts her then."]
    # Replay begins at the start, so time has to carry the patient to the later stage.
    waiting = [CLEAN, *[WELL] * 6, Request("apex-palpate", {"effort": "firm"})]
    marks = mark(small, log_of(small, *waiting, differential={"mitral-regurgitation": 1.0}))
    assert marks.capped_at == 40
    assert marks.total <= 40


def test_every_point_links_to_entries_of_the_log(small):
    entries = log_of(small, CLEAN, WELL, WELL, differential={"mitral-regurgitation": 0.5})
    positions = {entry.seq for entry in entries}
    for domain in mark(small, entries).domains:
        for point in domain.points:
            assert set(point.entries) <= positions
            assert point.entries or point.earned == 0


def test_the_same_log_marks_the_same(published):
    for case in published:
        requests = [Request(item.step) for item in case.document.scheme.essential]
        entries = log_of(case, *requests, differential={case.document.truth[0]: 0.6})
        assert mark(case, entries) == mark(case, entries)
        assert mark(case, entries).version == MARKING_VERSION


def test_stored_charges_are_not_trusted(small):
    entries = log_of(small, CLEAN, WELL, differential={"mitral-regurgitation": 0.9})
    forged = [
        Entry(e.seq, e.kind, {**e.payload, "charge": {"surcharge": 99.0}, "supported": {}})
        for e in entries
    ]
    assert mark(small, forged) == mark(small, entries)
