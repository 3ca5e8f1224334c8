"""The rules of the case check that span several fields, and its limits of size."""

from __future__ import annotations

import json
from typing import Any

import pytest

from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.checks import answers, steps

MISSING = object()


def spoil(document: dict[str, Any], path: str, value: Any) -> None:
    """Set (or with MISSING remove) the value at a path such as ``findings[0].id``."""
    *parents, last = path.replace("[", ".[").split(".")
    place: Any = document
    for part in parents:
        place = place[int(part[1:-1])] if part.startswith("[") else place[part]
    key: Any = int(last[1:-1]) if last.startswith("[") else last
    if value is MISSING:
        del place[key]
    elif isinstance(place, list) and key == len(place):
        place.append(value)
    else:
        place[key] = value


def test_a_case_where_nothing_is_evidence_is_an_error(good, catalogue):
    for finding in good["findings"]:
        del finding["evidence"]
        for answer in finding["answers"]:
            answer.pop("outcome", None)
    assert [p.path for p in check_case(good, catalogue).problems] == ["findings"]


def test_two_signs_seen_at_once_need_one_group(good, catalogue):
    twin = {**good["findings"][0], "id": "hiss"}
    good["findings"].append(twin)
    found = check_case(good, catalogue).problems
    assert [(p.path, p.severity) for p in found] == [("findings[2].evidence.group", "warning")]

    good["findings"][0]["evidence"]["group"] = "sounds"
    twin["evidence"] = {**twin["evidence"], "group": "sounds"}
    assert check_case(good, catalogue).problems == ()


def test_two_signs_of_one_step_in_different_stages_need_no_group(good, catalogue):
    good["findings"].append({**good["findings"][0], "id": "hiss", "stages": ["worse"]})
    good["findings"][0]["stages"] = ["first"]
    assert check_case(good, catalogue).problems == ()


def test_two_signs_of_one_step_shown_by_different_techniques_need_no_group(good, catalogue):
    other = json.loads(json.dumps(good["findings"][0])) | {"id": "hiss"}
    other["answers"][0]["when"] = {"site": "base"}
    del other["answers"][1]
    good["findings"].append(other)
    assert check_case(good, catalogue).problems == ()


def test_an_unsafe_act_in_another_stage_does_not_forbid_the_wanted_one(good, catalogue):
    good["scheme"]["unsafe"][0] = {"step": "listen", "stages": ["worse"], "why": "not now"}
    good["scheme"]["essential"][0]["stages"] = ["first"]
    assert check_case(good, catalogue).is_fit


def test_an_unsafe_technique_does_not_forbid_a_wanted_safe_one(good, catalogue):
    good["scheme"]["unsafe"][0] = {"step": "listen", "when": {"posture": "supine"}, "why": "no"}
    assert check_case(good, catalogue).is_fit


def test_the_order_may_branch_and_meet(good, catalogue):
    good["scheme"]["routine"].append({"id": "give", "step": "drug", "why": "It helps."})
    good["scheme"]["order"].append({"before": "feel", "after": "give", "why": "x"})
    good["scheme"]["order"].append({"before": "give", "after": "hear", "why": "x"})
    assert check_case(good, catalogue).problems == ()


def test_every_problem_is_told_at_once(good, catalogue):
    good["hypotheses"][0]["prior"] = 0.4
    good["findings"][0]["step"] = "lisen"
    good["scheme"]["weights"]["safety"] = 20
    paths = {p.path for p in check_case(good, catalogue).errors}
    assert paths == {"hypotheses", "findings[0].step", "scheme.weights"}


def test_short_capitals_are_no_leak_in_ordinary_words(good, catalogue):
    good["opening"] = "The solvo man came as usual; lvo is nothing."
    assert check_case(good, catalogue).problems == ()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{", "not valid JSON at line 1"),
        ("[]", "one JSON object"),
        ('{"a": 1, "a": 2}', "twice in one object"),
        ('{"a": NaN}', "not a JSON number"),
        ('{"a": ' + "1" * 5000 + "}", "too many digits"),
        ('{"slug": "\\ud800"}', "not valid JSON"),
        ('{"slug": "\ud800"}', "not text"),
        ("[" * 200_000, "nested too deeply"),
        ('"' + "x" * 1_000_001 + '"', "too large"),
    ],
)
def test_text_that_is_no_case_is_one_problem_of_the_whole(catalogue, text, words):
    review = check_case(text, catalogue)
    assert [p.path for p in review.problems] == [""]
    assert words in review.problems[0].message


def test_an_object_that_is_not_json_is_told_so(good, catalogue):
    good["opening"] = {1, 2}
    assert "cannot be written as JSON" in check_case(good, catalogue).problems[0].message


def test_text_and_object_are_read_alike(good, catalogue):
    assert check_case(json.dumps(good), catalogue) == check_case(good, catalogue)


ANSWER = {"strength": "absent"}
ROW = {"leaky-valve": 0.5, "stiff-wall": 0.4, "nothing-wrong": 0.1}
EVID = "findings[1].evidence"
WANTED = {"step": "listen", "why": "x"}
PAIR = {"before": "feel", "after": "hear", "why": "x"}
TOO_LARGE = [
    ("stages", lambda n: [{"id": f"s-{i}", "label": "x"} for i in range(n)], 20),
    ("stages[0].moves", lambda n: [{"to": "worse", "after_minutes": 1}] * n, 20),
    ("hypotheses", lambda n: [{"diagnosis": f"d-{i}", "prior": 1 / n} for i in range(n)], 40),
    ("findings", lambda n: [find(i) for i in range(n)], 200),
    ("findings[0].answers", lambda n: [ANSWER] * n, 20),
    (f"{EVID}.table", lambda n: [{"outcome": "x", "given": ROW}] * n, 20),
    ("scheme.essential", lambda n: [{**WANTED, "id": f"w-{i}"} for i in range(n)], 100),
    ("scheme.routine", lambda n: [{**WANTED, "id": f"w-{i}"} for i in range(n)], 100),
    ("scheme.unsafe", lambda n: [WANTED] * n, 100),
    ("scheme.order", lambda n: [PAIR] * n, 300),
    ("teaching.points", lambda n: ["x"] * n, 50),
    ("teaching.sources", lambda n: ["x"] * n, 50),
    ("cautions", lambda n: ["x"] * n, 50),
]


def find(number: int) -> dict[str, Any]:
    return {"id": f"f-{number}", "step": "listen", "label": "x", "answers": [ANSWER]}


@pytest.mark.parametrize(("path", "filled", "most"), TOO_LARGE, ids=[t[0] for t in TOO_LARGE])
def test_a_part_beyond_its_size_stops_the_check_there(good, catalogue, path, filled, most):
    spoil(good, path, filled(most + 1))
    problems = check_case(good, catalogue).problems
    assert [p.path for p in problems] == [path]
    assert f"at most {most}" in problems[0].message


@pytest.mark.parametrize(("path", "filled", "most"), TOO_LARGE, ids=[t[0] for t in TOO_LARGE])
def test_a_part_of_just_its_size_is_checked_on(good, catalogue, path, filled, most):
    spoil(good, path, filled(most))
    problems = check_case(good, catalogue).problems
    assert not any("are allowed" in p.message for p in problems)


def test_conditions_with_too_many_techniques_are_told_rather_than_tried(
    good, catalogue, monkeypatch
):
    for module in (answers, steps):
        monkeypatch.setattr(module, "MAX_TECHNIQUES", 3)
    found = {p.path: p.message for p in check_case(good, catalogue).errors}
    assert set(found) == {"findings[0].answers", "scheme.essential[0]"}
    assert all("too many slots: 4 techniques" in message for message in found.values())
