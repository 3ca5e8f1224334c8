"""Expected information of a request against the definition worked out one outcome at a time."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import entropy

from casebank.domain.encounter.engine import answer, open_state
from casebank.domain.encounter.knowledge import (
    information_of,
    information_of_catalogue,
    outcomes_seen,
    supported,
)
from casebank.domain.encounter.model import Request
from casebank.domain.encounter.reveal import reveal
from casebank.domain.evidence import combine
from tests.factories.records import SHIPPED, played, shipped


def test_expected_information_is_the_mean_fall_of_entropy(small):
    state = open_state(small)
    prior = np.array([0.625, 0.375])
    table = np.array([[0.55, 0.25], [0.45, 0.75]])
    chances = table @ prior
    after = sum(
        chance * entropy(row * prior / chance, base=2)
        for chance, row in zip(chances, table, strict=True)
    )
    bits = information_of(small, state, "apex-palpate", {"effort": "firm"})
    assert bits == pytest.approx(entropy(prior, base=2) - after, abs=1e-12)


def test_a_technique_that_can_decide_nothing_adds_nothing(small):
    technique = {"site": "apex", "posture": "supine"}
    assert information_of(small, open_state(small), "heart-auscultate", technique) == 0


def test_what_is_known_already_adds_nothing(small):
    well = {"site": "apex", "posture": "left-lateral"}
    _, state = answer(small, open_state(small), Request("heart-auscultate", well))
    assert information_of(small, state, "heart-auscultate", well) == 0


def test_information_is_never_negative_over_the_whole_catalogue(published):
    for case in published:
        state = open_state(case)
        for step in case.catalogue.steps.values():
            bits = information_of(case, state, step.slug, step.full_technique({}))
            assert 0 <= bits <= entropy(case.prior, base=2) + 1e-9


def test_the_supported_belief_starts_at_the_prior(published):
    for case in published:
        assert supported(case, open_state(case)).posterior == pytest.approx(case.prior)


def plainly(case, state, step):
    """The definition over every joint outcome of what the usual way of this step decides."""
    known = outcomes_seen(state)
    technique = case.catalogue.steps[step].full_technique({})
    told = reveal(case, step, technique, state.stage).seen
    undecided = [
        one.finding
        for one in told
        if one.outcome is not None and one.finding in case.tables and one.finding not in known
    ]
    seen = [(case.groups[f], case.rows[f, o]) for f, o in known.items() if (f, o) in case.rows]
    now = combine(case.prior, seen).posterior
    left = 0.0
    for rows in itertools.product(*(case.tables[finding] for finding in undecided)):
        chance = float(np.prod(rows, axis=0) @ now) if rows else 1.0
        if chance > 0:
            new = [(case.groups[f], row) for f, row in zip(undecided, rows, strict=True)]
            left += chance * entropy(combine(case.prior, [*seen, *new]).posterior, base=2)
    return max(0.0, float(entropy(now, base=2) - left))


@pytest.mark.parametrize("name", SHIPPED)
@given(data=st.data())
@settings(max_examples=8)
def test_the_whole_catalogue_at_once_follows_the_definition(name, data):
    case = shipped(name)
    taken = data.draw(st.lists(st.sampled_from(sorted(case.findings_by_step)), max_size=8))
    state = played(case, *taken).state
    bits = information_of_catalogue(case, state)
    assert bits.keys() == case.catalogue.steps.keys()
    for slug in case.findings_by_step:
        assert bits[slug] == pytest.approx(plainly(case, state, slug), abs=1e-9)
        technique = case.catalogue.steps[slug].full_technique({})
        assert information_of(case, state, slug, technique) == bits[slug]
    assert sum(bits.values()) == pytest.approx(sum(bits[slug] for slug in case.findings_by_step))
