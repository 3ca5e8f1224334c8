"""Both marking versions: golden logs mark the same for ever, and what version 2 adds is said."""

from __future__ import annotations

import json
from dataclasses import asdict

import pytest

from casebank.domain.encounter.engine import replay
from casebank.domain.encounter.model import Reading
from casebank.domain.marking import MARKERS, MARKING_VERSION, mark
from tests.factories.heard import (
    APEX,
    AXILLA,
    CLEAN,
    GOLDEN,
    NOTHING_HEARD,
    golden_case,
    golden_log,
    heard_log,
)

LOGS = sorted(path.name.removesuffix(".log.json") for path in GOLDEN.glob("*.log.json"))
END = {"mitral-regurgitation": 0.9, "aortic-stenosis": 0.1}
FULL = (
    {
        "sign": ("pansystolic-murmur",),
        "timing": ("pansystolic",),
        "grade": ("3",),
        "radiation": ("axilla",),
    },
    {"sign": ("third-heart-sound",)},
)
FOURTH = ({"sign": ("fourth-heart-sound",)},)


def case_of(log):
    return golden_case(log.split(".")[0])


def as_stored(marks):
    return json.loads(json.dumps(asdict(marks)))


def domain(marks, name):
    return next(one for one in marks.domains if one.domain == name)


def interpretation(*acts):
    entries, _ = heard_log(*acts, end=END)
    return domain(mark(golden_case("heard"), entries, 2), "interpretation")


def test_there_are_golden_logs_of_both_cases():
    assert len(LOGS) == 9
    assert {one.split(".")[0] for one in LOGS} == {"described", "heard"}


@pytest.mark.parametrize("version", [1, 2])
@pytest.mark.parametrize("log", LOGS)
def test_a_golden_log_marks_as_it_did(log, version):
    golden = json.loads((GOLDEN / f"{log}.marks-{version}.json").read_text(encoding="utf-8"))
    assert as_stored(mark(case_of(log), golden_log(log), version)) == golden


@pytest.mark.parametrize("log", LOGS)
def test_a_golden_log_replays_to_the_payloads_it_holds(log):
    entries = golden_log(log)
    _, payloads = replay(case_of(log), entries)
    assert json.loads(json.dumps(list(payloads))) == [one.payload for one in entries]


def test_the_newest_version_marks_unless_another_is_named():
    assert max(MARKERS) == MARKING_VERSION == 2
    entries = golden_log("heard.named")
    assert mark(golden_case("heard"), entries) == mark(golden_case("heard"), entries, 2)


@pytest.mark.parametrize("version", [0, 3, -1])
def test_an_unknown_version_is_refused_with_those_there_are(version):
    with pytest.raises(ValueError, match=rf"no marking version {version}; choose one of 1, 2"):
        mark(golden_case("heard"), golden_log("heard.named"), version)


def test_version_one_knows_no_interpretation():
    marks = mark(golden_case("heard"), golden_log("heard.named"), 1)
    assert "interpretation" not in {one.domain for one in marks.domains}


# ---- interpretation
def test_where_nothing_is_heard_interpretation_is_left_out_of_the_total():
    described = mark(golden_case("described"), golden_log("described.careful"), 2)
    found = domain(described, "interpretation")
    assert (found.score, found.note) == (
        None,
        "This patient has no sign to be named by ear or eye.",
    )
    rest = [one for one in described.domains if one.score is not None]
    mean = sum(one.score * one.weight for one in rest) / sum(one.weight for one in rest)
    assert described.total == pytest.approx(mean, abs=1e-4)
    unheard = interpretation(CLEAN, NOTHING_HEARD)
    assert unheard.score is None
    assert "came upon no sign" in unheard.note


def test_perceived_but_not_named_earns_nothing_and_says_so():
    found = interpretation(APEX)
    assert found.score == 0
    assert all("perceived, but not named" in point.words for point in found.points)


def test_a_full_reading_earns_everything_and_links_to_both_entries():
    found = interpretation(CLEAN, APEX, Reading(2, 0, "in full", FULL))
    assert found.score == 100
    assert [point.entries for point in found.points] == [(2, 3), (2, 3)]


def test_the_last_reading_of_an_occasion_counts():
    right, wrong = Reading(1, 0, "right", FULL), Reading(1, 0, "wrong", FOURTH)
    assert interpretation(APEX, wrong, right).score == 100
    assert interpretation(APEX, right, wrong).score == 0


def test_the_best_occasion_of_a_finding_counts_whenever_it_was():
    full, fourth = Reading(1, 0, "full", FULL), Reading(3, 0, "fourth", FOURTH)
    assert interpretation(APEX, full, AXILLA, fourth).score == 100


def test_each_feature_counts_by_itself():
    (said, _) = FULL
    found = interpretation(
        APEX, Reading(1, 0, "no grade", ({k: v for k, v in said.items() if k != "grade"},))
    )
    assert [point.earned for point in found.points] == [0.75, 0]
    assert "Grade: grade 3 (not said)" in found.points[0].words


# ---- the rest of version 2
@pytest.mark.parametrize("log", ["described.contraindicated", "heard.unnamed"])
def test_a_contraindicated_step_says_how_it_caps_the_total(log):
    marks = mark(case_of(log), golden_log(log), 2)
    assert marks.capped_at == 40
    assert marks.total <= 40
    safety = domain(marks, "safety")
    assert "held at 40 or below" in safety.note
    assert any("cannot be above 40" in point.words for point in safety.points)


def test_without_one_nothing_is_said_of_a_cap():
    marks = mark(golden_case("heard"), golden_log("heard.named"), 2)
    assert marks.capped_at is None
    assert "40" not in domain(marks, "safety").note


@pytest.mark.parametrize("log", LOGS)
def test_version_two_links_every_point_to_entries_of_the_log(log):
    entries = golden_log(log)
    positions = {one.seq for one in entries}
    for one in mark(case_of(log), entries, 2).domains:
        for point in one.points:
            assert point.entries
            assert set(point.entries) <= positions


def test_pairs_that_one_request_met_both_ends_of_are_not_judged():
    entries, _ = heard_log(CLEAN, APEX, end=END)
    order = domain(mark(golden_case("heard"), entries, 2), "order")
    assert order.score == 100
    assert order.note.startswith("1 of 3 pairs")
