"""Simulated learners: repeatable, legal, and better when abler."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from casebank.domain.casefile.checks.signs import families_of
from casebank.domain.casefile.compile import compile_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.encounter.engine import answer, conclude, open_state
from casebank.domain.encounter.model import Entry
from casebank.domain.encounter.perceive import media_of
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.readings import SignReader
from casebank.domain.marking import mark
from casebank.domain.marking.naming import naming_of
from casebank.domain.rehearsal import Learner, conclusion_of, plan_of, words_for

FIXTURES = Path(__file__).parents[4] / "fixtures"


@pytest.fixture(scope="module")
def cases():
    texts = {p.name: p.read_text("utf-8") for p in (FIXTURES / "catalogue").glob("*.toml")}
    catalogue = parse_catalogue(texts)
    return [
        compile_case(CaseDocument.model_validate(json.loads(path.read_text("utf-8"))), catalogue)
        for path in sorted((FIXTURES / "cases").glob("*.json"))
    ]


@pytest.fixture(scope="module")
def case(cases):
    return cases[0]


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


def all_media(case):
    """What every answer with a sign gives to hear or see, alone."""
    for finding in case.document.findings:
        for one in finding.answers:
            if one.sign is not None:
                yield from media_of([(finding, one)])


def score(case, medium, words):
    vocabulary = case.catalogue.vocabulary
    found = SignReader(vocabulary).read(words, families_of(medium.spec))
    said = [one.features for one in found.stated]
    return naming_of(medium.heard[0].expects, said, vocabulary).score


def test_the_ablest_names_every_sign_in_full_in_words_that_are_understood(cases):
    for case in cases:
        for medium in all_media(case):
            words = words_for(case.catalogue.vocabulary, Learner(50, 1), medium, 3)
            assert score(case, medium, words) == 1, words


def test_the_abler_name_signs_better_on_average(case):
    def mean(ability):
        scores = [
            score(
                case, medium, words_for(case.catalogue.vocabulary, Learner(ability, n), medium, 3)
            )
            for medium in all_media(case)
            for n in range(12)
        ]
        return np.mean(scores)

    assert mean(2.0) > mean(-1.5) + 0.2


def test_the_same_learner_names_the_same(case):
    medium = next(all_media(case))
    words = [words_for(case.catalogue.vocabulary, Learner(0, 5), medium, 3) for _ in range(2)]
    assert words[0] == words[1]
