"""A learner's walk: a log like a person's, repeatable, replayable, and marked the same."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.domain.encounter.engine import replay
from casebank.domain.examination.readings import SignReader
from casebank.domain.rehearsal import CAREFUL, EACH, KINDS, Learner, company, outcome_of, walk
from tests.factories.shipped import CASES, CATALOGUE, VALVE

READER = SignReader(CATALOGUE.vocabulary)


@pytest.fixture(params=CASES)
def case(request):
    return CASES[request.param]


@settings(max_examples=25)
@given(ability=st.floats(-3, 4), seed=st.integers(0, 10_000))
def test_any_walk_replays_to_the_payloads_it_logged(ability, seed):
    case = CASES[VALVE]
    entries = walk(case, Learner(ability, seed), READER)
    assert [one.seq for one in entries] == list(range(1, len(entries) + 1))
    assert replay(case, entries)[1] == tuple(one.payload for one in entries)


def test_the_same_learner_walks_the_same_way(case):
    learner = Learner(0.4, 11)
    assert walk(case, learner, READER) == walk(case, learner, READER)


def test_a_walk_ends_with_the_conclusion_and_only_there(case):
    kinds = [one.kind for one in walk(case, Learner(0.4, 3), READER)]
    assert kinds[-1] == "conclusion"
    assert "conclusion" not in kinds[:-1]


def test_the_careful_examiner_does_all_that_the_scheme_asks_and_nothing_else(case):
    entries = walk(case, CAREFUL, READER)
    outcome, scheme = outcome_of(case, entries), case.document.scheme
    assert outcome.essentials == {item.id for item in scheme.essential}
    wanted = {item.step for item in (*scheme.essential, *scheme.routine)}
    asked = {one.payload["step"] for one in entries if one.kind == "request"}
    courtesies = {step.slug for step in case.catalogue.steps.values() if step.provides}
    assert asked - courtesies <= wanted
    assert outcome.surcharge == 0
    assert outcome.domains["technique"] == 100


def test_the_careful_examiner_keeps_the_order_that_the_scheme_wants(case):
    outcome = outcome_of(case, walk(case, CAREFUL, READER))
    assert outcome.domains["order"] in (100, None)


def test_what_a_walk_came_to_is_what_its_log_says(case):
    entries = walk(case, Learner(0.4, 5), READER)
    outcome, requests = outcome_of(case, entries), [e for e in entries if e.kind == "request"]
    assert outcome.minutes == pytest.approx(sum(e.payload["charge"]["minutes"] for e in requests))
    assert outcome.surcharge == pytest.approx(
        sum(e.payload["charge"]["surcharge"] for e in requests)
    )
    assert len(outcome.charges) == len(requests)
    assert outcome.reached <= outcome.touched


def test_a_company_has_so_many_of_each_kind_and_no_two_alike():
    learners = [learner for _, learner in company()]
    assert len(learners) == len(set(learners)) == EACH * len(KINDS)
    assert company() == company()
