"""Forms of evidence and of priors: accuracies, what was assumed, several diseases at once."""

from __future__ import annotations

from copy import deepcopy

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.casefile.canonical import canonical_json
from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.compile import compile_case, outcome_table
from casebank.domain.casefile.likelihoods import Accuracy, Evidence
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.evidence import posterior
from tests.factories.records import shipped

EVIDENCE = "findings[0].evidence"
BOTH = {"id": "leaky-and-stiff", "diagnoses": ["leaky-valve", "stiff-wall"], "prior": 0.1}


def with_accuracy(document, **numbers):
    evidence = document["findings"][0]["evidence"]
    targets = evidence.pop("ratios")["targets"]
    evidence["accuracy"] = {"targets": targets, **numbers}
    return document


def with_both(document):
    document["hypotheses"][0]["prior"] = 0.4
    document["together"] = [dict(BOTH)]
    for row in document["findings"][1]["evidence"]["table"]:
        row["given"]["leaky-and-stiff"] = {"deep": 0.9, "none": 0.1}[row["outcome"]]
    return document


def found(document, catalogue):
    return [(p.path, p.severity, p.message) for p in check_case(document, catalogue).problems]


# --- sensitivity and specificity -----------------------------------------------------------------


def test_sensitivity_and_specificity_are_likelihoods_as_they_stand(good, catalogue):
    document = with_accuracy(good, sensitivity=0.68, specificity=0.833)
    assert found(document, catalogue) == []
    case = compile_case(CaseDocument.model_validate(document), catalogue)
    assert case.outcomes["blow"] == ("present", "absent")
    np.testing.assert_allclose(
        case.tables["blow"], [[0.68, 0.167, 0.167], [0.32, 0.833, 0.833]], atol=1e-12
    )


@pytest.mark.parametrize(
    ("prior", "sensitivity", "specificity", "positive", "negative"),
    [
        # Cooke et al., J Fam Pract 2006: at 3 %, 30 % of those screened positive, 0.2 % missed.
        (0.03, 0.94, 0.72, None, None),
        # Eilen et al., Ann Intern Med 1983: positive predictive value 86 %, negative 95 %.
        (0.375, 0.92, 0.91, 0.86, 0.95),
    ],
)
def test_published_accuracies_give_the_published_predictive_values(
    prior, sensitivity, specificity, positive, negative
):
    accuracy = Accuracy(targets=("a",), sensitivity=sensitivity, specificity=specificity)
    table = outcome_table(Evidence(source="illustrative", accuracy=accuracy), ("a", "b"))
    before = [prior, 1 - prior]
    after = posterior(before, [table[0]])[0], posterior(before, [table[1]])[1]
    if positive is None:
        assert table[0] @ before == pytest.approx(0.30, abs=0.005)
        assert table[1][0] * prior == pytest.approx(0.002, abs=0.0005)
    else:
        assert after == pytest.approx((positive, negative), abs=0.005)


@pytest.mark.parametrize(
    ("numbers", "path", "words"),
    [
        ({"sensitivity": 1.2, "specificity": 0.8}, ".sensitivity", "1 or less"),
        ({"sensitivity": 0.5, "specificity": 0}, ".specificity", "above 0"),
        ({"sensitivity": 0.4, "specificity": 0.5}, "", "more than 1"),
        (
            {"sensitivity": 0.7, "specificity": 0.8, "sensitivity_interval": [0.6, 0.8]},
            "",
            "or neither",
        ),
        (
            {
                "sensitivity": 0.7,
                "specificity": 0.8,
                "sensitivity_interval": [0.75, 0.8],
                "specificity_interval": [0.7, 0.9],
            },
            "",
            "must hold its share",
        ),
    ],
)
def test_numbers_that_cannot_be_are_refused(good, catalogue, numbers, path, words):
    problems = check_case(with_accuracy(good, **numbers), catalogue).errors
    assert any(p.path == f"{EVIDENCE}.accuracy{path}" and words in p.message for p in problems)


def test_a_certain_accuracy_is_warned_of(good, catalogue):
    problems = found(with_accuracy(good, sensitivity=1, specificity=1), catalogue)
    assert {(p[0], p[1]) for p in problems} == {
        (f"{EVIDENCE}.accuracy.sensitivity", "warning"),
        (f"{EVIDENCE}.accuracy.specificity", "warning"),
    }


def test_only_one_form_of_evidence_may_be_given(good, catalogue):
    evidence = good["findings"][0]["evidence"]
    evidence["accuracy"] = {"targets": ["leaky-valve"], "sensitivity": 0.9, "specificity": 0.9}
    assert any("only one of them" in words for _, _, words in found(good, catalogue))


def test_a_ratio_that_does_not_lie_in_its_interval_is_refused_in_words(good, catalogue):
    good["findings"][0]["evidence"]["ratios"]["positive_interval"] = [9, 12]
    assert found(good, catalogue) == [
        (f"{EVIDENCE}.ratios", "error", "an interval must hold its ratio: 0 < low <= 8 <= high")
    ]


# --- what was assumed ----------------------------------------------------------------------------


def test_two_numbers_for_three_diagnoses_must_say_what_is_alike(good, catalogue):
    del good["findings"][0]["evidence"]["assumed"]
    ((path, severity, words),) = found(good, catalogue)
    assert (path, severity) == (f"{EVIDENCE}.assumed", "warning")
    assert "alike" in words


# --- priors of a presentation --------------------------------------------------------------------


def test_priors_say_whom_they_are_of(good, catalogue):
    del good["presentation"]
    assert [(p[0], p[1]) for p in found(good, catalogue)] == [("presentation", "warning")]


def test_a_presentation_needs_a_source(good, catalogue):
    good["presentation"]["source"] = "a book"
    assert [(p[0], p[1]) for p in found(good, catalogue)] == [("presentation.source", "error")]


# --- several at once -----------------------------------------------------------------------------


def test_diseases_together_are_a_possibility_of_their_own(good, catalogue):
    document = with_both(good)
    assert found(document, catalogue) == []
    case = compile_case(CaseDocument.model_validate(document), catalogue)
    assert case.possibilities[-1] == ("leaky-valve", "stiff-wall")
    assert case.prior.tolist() == [0.4, 0.3, 0.2, 0.1]
    # Their probability is shared between them.
    np.testing.assert_allclose(case.by_diagnosis(case.prior), [0.45, 0.35, 0.2])
    # Two numbers count them as a target, because one of them is; a table names them.
    assert case.rows["blow", "present"][3] == case.rows["blow", "present"][0]
    assert case.rows["pit", "deep"][3] == 0.9


def test_evidence_for_each_of_two_diseases_raises_both_only_where_both_may_be(good, catalogue):
    document = with_both(good)
    # A second sign, of the stiff wall alone.
    twin = deepcopy(document["findings"][0]) | {"id": "hiss"}
    twin["evidence"]["ratios"]["targets"] = ["stiff-wall"]
    document["findings"].append(twin)
    case = compile_case(CaseDocument.model_validate(document), catalogue)
    rows = [case.rows["blow", "present"], case.rows["hiss", "present"]]
    together = posterior(case.prior, rows)
    assert together.argmax() == 3
    leaky, stiff, nothing = case.by_diagnosis(together)
    assert min(leaky, stiff) > 0.4
    # Where they exclude each other the same two signs leave it open which of them it is.
    apart = posterior(case.prior[:3] / case.prior[:3].sum(), [row[:3] for row in rows])
    assert apart[2] > 2 * nothing


@given(st.integers(0, 2**32 - 1))
def test_beliefs_by_diagnosis_sum_to_one(seed):
    case = shipped("bed-nine-at-three")
    belief = np.random.default_rng(seed).dirichlet(np.ones(len(case.possibilities)))
    shared = case.by_diagnosis(belief)
    assert shared.shape == (len(case.hypotheses),)
    assert shared.sum() == pytest.approx(1)


@pytest.mark.parametrize(
    ("change", "path", "words"),
    [
        ({"prior": 0.2}, "hypotheses", "together, sum to 1.1"),
        ({"id": "leaky-valve"}, "together[0].id", "choose another name"),
        ({"diagnoses": ["leaky-valve", "gout"]}, "together[0].diagnoses[1]", "no hypothesis"),
        ({"diagnoses": ["leaky-valve", "leaky-valve"]}, "together[0].diagnoses[1]", "already"),
        ({"diagnoses": ["leaky-valve"]}, "together[0].diagnoses", "at least 2"),
    ],
)
def test_what_cannot_be_together_is_refused(good, catalogue, change, path, words):
    document = with_both(good)
    document["together"][0] |= change
    assert any(p == path and words in message for p, _, message in found(document, catalogue))


def test_a_table_must_say_what_the_two_show_together(good, catalogue):
    document = with_both(good)
    del document["findings"][1]["evidence"]["table"][0]["given"]["leaky-and-stiff"]
    assert any("lacks the hypothesis 'leaky-and-stiff'" in p[2] for p in found(document, catalogue))


def test_the_same_two_together_twice_are_an_error(good, catalogue):
    document = with_both(good)
    again = {"id": "again", "diagnoses": ["stiff-wall", "leaky-valve"], "prior": 0.1}
    document["together"].append(again)
    document["hypotheses"][0]["prior"] = 0.3
    assert any(p[0] == "together[1].diagnoses" for p in found(document, catalogue))


def test_two_truths_that_exclude_each_other_are_warned_of(good, catalogue):
    good["truth"] = ["leaky-valve", "stiff-wall"]
    assert [(p[0], p[1]) for p in found(good, catalogue)] == [("truth", "warning")]
    assert found(with_both(good), catalogue) == []


# --- documents from before -----------------------------------------------------------------------


def test_a_document_that_uses_none_of_this_is_spelled_as_before(good):
    del good["presentation"]
    del good["findings"][0]["evidence"]["assumed"]
    text = canonical_json(CaseDocument.model_validate(good))
    for name in ("presentation", "together", "accuracy", "assumed", "_interval", '"sign"'):
        assert name not in text
