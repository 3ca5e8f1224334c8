"""A rehearsal's report: sums of its walks, and the weak places of a case it must find."""

from __future__ import annotations

import json
from copy import deepcopy
from dataclasses import asdict

import numpy as np
import pytest

from casebank.domain.casefile.compile import compile_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.readings import SignReader
from casebank.domain.rehearsal import CAREFUL, KINDS, company, outcome_of, report_of, walk
from tests.factories.cases import SMALL_DOCUMENT, SMALL_TEXTS
from tests.factories.shipped import CASES, NIGHT, VALVE

SMALL_CATALOGUE = parse_catalogue(SMALL_TEXTS)
FEW = 12


def walks_of(case, few=FEW):
    reader = SignReader(case.catalogue.vocabulary)
    walks = {kind.slug: [] for kind in KINDS}
    for kind, learner in company():
        if len(walks[kind.slug]) < few:
            walks[kind.slug].append(outcome_of(case, walk(case, learner, reader)))
    return walks, outcome_of(case, walk(case, CAREFUL, reader))


def rehearsed(case):
    return report_of(case, *walks_of(case))


def small(**changes):
    document = deepcopy(SMALL_DOCUMENT)
    for path, value in changes.items():
        *way, last = path.split("__")
        place = document
        for part in way:
            place = place[int(part) if part.isdecimal() else part]
        place[last] = value
    return compile_case(CaseDocument.model_validate(document), SMALL_CATALOGUE)


@pytest.fixture(scope="module")
def valve():
    return CASES[VALVE], *walks_of(CASES[VALVE])


def test_each_kinds_numbers_are_the_means_and_ends_of_its_walks(valve):
    case, walks, careful = valve
    for kind in report_of(case, walks, careful).kinds:
        totals = [one.total for one in walks[kind.kind]]
        assert kind.total.mean == pytest.approx(np.mean(totals), abs=0.005)
        assert (kind.total.low, kind.total.high) == pytest.approx(
            (min(totals), max(totals)), abs=0.005
        )
        coverage = [one.domains["coverage"] for one in walks[kind.kind]]
        assert kind.domains["coverage"] == pytest.approx(np.mean(coverage), abs=0.005)


def test_the_abler_kinds_fare_better(valve):
    totals = [kind.total.mean for kind in report_of(*valve).kinds]
    assert totals == sorted(totals)
    assert totals[0] < totals[-1] - 10


def test_the_reasons_add_up_to_every_request_and_the_whole_surcharge(valve):
    case, walks, careful = valve
    everyone = [one for group in walks.values() for one in group]
    found = report_of(case, walks, careful).reasons
    assert sum(one.requests for one in found) == sum(len(one.charges) for one in everyone)
    assert sum(one.surcharge for one in found) == pytest.approx(
        sum(one.surcharge for one in everyone), abs=0.05
    )
    assert next(one for one in found if one.reason == "due").surcharge == 0


def test_a_finding_is_either_reached_by_somebody_or_listed(valve):
    case, walks, careful = valve
    reached = {name for group in walks.values() for one in group for name in one.reached}
    listed = {one.id for one in report_of(case, walks, careful).unreached}
    assert reached | listed == {finding.id for finding in case.document.findings}
    assert reached & listed == set()


def test_a_sign_that_the_scheme_never_asks_to_look_for_well_is_not_reached_for_its_technique():
    shown = rehearsed(small(scheme__essential__0__well={"posture": "supine"})).unreached
    murmur = next(one for one in shown if one.id == "murmur")
    assert murmur.why == "technique"
    assert "rolled onto the left side" in murmur.shows_with


def test_a_finding_of_a_stage_that_nobody_lives_to_see_says_so():
    case = small(
        stages__0__moves=[{"to": "later", "after_minutes": 200}], findings__1__stages=["later"]
    )
    apex = next(one for one in rehearsed(case).unreached if one.id == "displaced-apex")
    assert (apex.why, apex.stages) == ("stage", ("Later",))


def test_an_essential_that_counts_only_in_a_stage_that_never_comes_is_missed_by_all():
    case = small(
        stages__0__moves=[{"to": "later", "after_minutes": 200}],
        scheme__essential__0__stages=["later"],
    )
    found = rehearsed(case)
    assert [one.is_missed_by_all for one in found.essentials] == [True]
    assert found.careful.missed == ("Listen to the heart",)


def test_evidence_that_decides_tells_the_differential_apart():
    found = rehearsed(small()).differential
    assert found.verdict == "apart"
    truth = next(row for row in found.rows if row.is_true)
    assert truth.label == "Mitral regurgitation"
    # .625 x LR+ 5.4 against .375: the posterior by hand
    assert truth.careful == pytest.approx(0.625 * 5.4 / (0.625 * 5.4 + 0.375), abs=1e-3)


def test_diagnoses_that_are_true_together_are_told_apart_from_the_others():
    case = CASES[NIGHT]
    found = rehearsed(case).differential
    assert [row.diagnosis for row in found.rows if row.is_true] == list(case.document.truth)
    assert found.verdict == "apart"


def test_evidence_that_says_nothing_does_not():
    even = {"targets": ["mitral-regurgitation"], "positive": 1.01, "negative": 0.99}
    case = small(
        findings__0__evidence__ratios=even,
        hypotheses=[
            {"diagnosis": "mitral-regurgitation", "prior": 0.55, "must_not_miss": True},
            {"diagnosis": "aortic-stenosis", "prior": 0.45},
        ],
    )
    assert rehearsed(case).differential.verdict == "hardly"


def test_evidence_that_points_away_from_the_truth_is_said():
    case = small(truth=["aortic-stenosis"])
    found = rehearsed(case).differential
    assert (found.verdict, found.rival) == ("not", "Mitral regurgitation")
    assert rehearsed(case).kinds[-1].truth_first < FEW / 2


def test_the_report_is_plain_json(valve):
    plain = asdict(report_of(*valve))
    assert json.loads(json.dumps(plain))["learners"] == FEW * len(KINDS)
