"""Simulated learners: repeatable, legal, and better when abler."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from casebank.domain.casefile.compile import compile_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.encounter.engine import answer, conclude, open_state
from casebank.domain.encounter.model import Entry
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.marking import mark
from casebank.domain.rehearsal import Learner, conclusion_of, plan_of

FIXTURES = Path(__file__).parents[4] / "fixtures"


@pytest.fixture(scope="module")
def case():
    texts = {p.name: p.read_text("utf-8") for p in (FIXTURES / "catalogue").glob("*.toml")}
    path = sorted((FIXTURES / "cases").glob("*.json"))[0]
    document = CaseDocument.model_validate(json.loads(path.read_text("utf-8")))
    return compile_case(document, parse_catalogue(texts))


def walked(case, learner):
    state, entries = open_state(case), []
    for request in plan_of(case, learner):
        payload, state = answer(case, state, request)
        entries.append(Entry(state.last_seq, "request", payload))
    payload, state = conclude(case, state, conclusion_of(case, learner, state), "Done.", "")
    return [*entries, Entry(state.last_seq, "conclusion", payload)]


def test_the_same_seed_walks_the_same_way(case):
    assert walked(case, Learner(0.2, 7)) == walked(case, Learner(0.2, 7))


def test_another_seed_walks_another_way(case):
    assert walked(case, Learner(0.2, 7)) != walked(case, Learner(0.2, 8))


def test_the_abler_earn_more_on_average(case):
    weak = np.mean([mark(case, walked(case, Learner(-1.5, seed))).total for seed in range(12)])
    able = np.mean([mark(case, walked(case, Learner(2.0, seed))).total for seed in range(12)])
    assert able > weak + 10


def test_the_stated_differential_never_passes_100_percent(case):
    for seed in range(20):
        stated = conclusion_of(case, Learner(-2, seed), open_state(case))
        assert sum(stated.values()) <= 1 + 1e-9
