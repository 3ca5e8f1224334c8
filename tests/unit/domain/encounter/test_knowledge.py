"""Expected information of a request against the definition worked out one outcome at a time."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import entropy

from casebank.domain.encounter.engine import answer, open_state
from casebank.domain.encounter.knowledge import information_of, supported
from casebank.domain.encounter.model import Request


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
