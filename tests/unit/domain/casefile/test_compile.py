"""The compiled case: tables that are probabilities, and ratios that come back as given."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.casefile.compile import (
    compile_case,
    outcome_table,
    sensitivity_specificity,
)
from casebank.domain.casefile.likelihoods import Evidence, Ratios
from casebank.domain.casefile.schema import CaseDocument


@pytest.fixture
def compiled(good, catalogue):
    return compile_case(CaseDocument.model_validate(good), catalogue)


def test_hypotheses_and_prior_keep_the_document_s_order(compiled):
    assert compiled.hypotheses == ("leaky-valve", "stiff-wall", "nothing-wrong")
    assert compiled.prior.tolist() == [0.5, 0.3, 0.2]


def test_findings_are_found_by_step_and_stages_by_id(compiled):
    assert [f.id for f in compiled.findings_by_step["listen"]] == ["blow"]
    assert compiled.first_stage == "first"
    assert set(compiled.stages) == {"first", "worse", "better"}


def test_a_table_stands_as_written(compiled):
    assert compiled.outcomes["pit"] == ("deep", "none")
    assert compiled.tables["pit"].tolist() == [[0.5, 0.4, 0.1], [0.5, 0.6, 0.9]]
    assert compiled.rows["pit", "deep"].tolist() == [0.5, 0.4, 0.1]
    assert compiled.groups == {"blow": None, "pit": "fluid"}


def test_ratios_become_present_and_absent(compiled):
    assert compiled.outcomes["blow"] == ("present", "absent")
    present, absent = compiled.tables["blow"]
    assert present[0] / present[1] == pytest.approx(8)
    assert absent[0] / absent[1] == pytest.approx(0.3)
    assert present[1] == present[2]


def test_the_arrays_cannot_be_changed(compiled):
    for array in (compiled.prior, compiled.tables["pit"], compiled.rows["pit", "deep"]):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 0.5


@pytest.mark.parametrize(
    ("positive", "negative", "sensitivity", "specificity"),
    [
        # Eilen et al., Ann Intern Med 1983, apical impulse > 3 cm: LR 10.2 and 0.09, 92% and 91%
        (10.2, 0.09, 0.92, 0.91),
        # Fink et al., Arch Intern Med 2000, aneurysm felt: LR 2.7 and 0.43, 68% and 75%
        (2.7, 0.43, 0.68, 0.75),
        # Lembo et al., N Engl J Med 1988, Valsalva louder: LR 16.3 and 0.36, 65% and 96%
        (16.3, 0.36, 0.65, 0.96),
    ],
)
def test_published_ratios_give_the_published_pair(positive, negative, sensitivity, specificity):
    pair = sensitivity_specificity(positive, negative)
    assert pair == pytest.approx((sensitivity, specificity), abs=0.01)


@given(
    positive=st.floats(1.001, 1000),
    negative=st.floats(0, 0.999),
)
def test_the_pair_is_a_pair_of_probabilities_that_gives_the_ratios_back(positive, negative):
    sensitivity, specificity = sensitivity_specificity(positive, negative)
    assert 0 <= sensitivity <= 1
    assert 0 < specificity <= 1
    assert sensitivity / (1 - specificity) == pytest.approx(positive, rel=1e-6)
    assert (1 - sensitivity) / specificity == pytest.approx(negative, rel=1e-6, abs=1e-9)


@given(positive=st.floats(1.001, 1000), negative=st.floats(0, 0.999))
def test_every_column_of_a_ratio_table_sums_to_one(positive, negative):
    ratios = Ratios(targets=("a", "c"), positive=positive, negative=negative)
    table = outcome_table(Evidence(source="illustrative", ratios=ratios), ("a", "b", "c"))
    assert np.all(table >= 0)
    np.testing.assert_allclose(table.sum(axis=0), 1)
    assert table[0, 0] == table[0, 2]
    assert table[0, 0] > table[0, 1]
