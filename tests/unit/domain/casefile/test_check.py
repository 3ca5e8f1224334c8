"""Each rule of the case check: a good case spoiled in one place gives that problem, there."""

from __future__ import annotations

from typing import Any

import pytest

from casebank.domain.casefile.check import check_case

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


SHAPE = [
    ("title", MISSING, "title", "is missing"),
    ("colour", "red", "colour", "not a field"),
    ("slug", "Mill Lane", "slug", "lower-case words"),
    ("title", "", "title", "must not be empty"),
    ("title", "x" * 201, "title", "at most 200 characters"),
    ("patient.age", "70", "patient.age", "whole number"),
    ("patient.age", 111, "patient.age", "110 or less"),
    ("patient.age", -1, "patient.age", "0 or more"),
    ("patient.sex", "other", "patient.sex", "'female' or 'male'"),
    ("hypotheses[0].prior", 0, "hypotheses[0].prior", "above 0"),
    ("hypotheses[0].prior", 1, "hypotheses[0].prior", "below 1"),
    ("hypotheses", [], "hypotheses", "needs at least 2"),
    ("stages", {}, "stages", "list in square brackets"),
    ("patient", 3, "patient", "object in curly brackets"),
    ("findings[1].answers[0].when", 3, "findings[1].answers[0].when", "curly brackets"),
    (
        "findings[0].answers[0].when.sight",
        "apex",
        "findings[0].answers[0].when.sight",
        "must be one of site, side",
    ),
    (
        "findings[0].evidence.ratios.positive",
        0.9,
        "findings[0].evidence.ratios.positive",
        "above 1",
    ),
    (
        "findings[0].evidence.ratios.negative",
        1.2,
        "findings[0].evidence.ratios.negative",
        "below 1",
    ),
    ("opening", 5, "opening", "quotation marks"),
    ("hypotheses[0].must_not_miss", "yes", "hypotheses[0].must_not_miss", "true or false"),
    ("hypotheses[0].prior", "a", "hypotheses[0].prior", "must be a number"),
    ("scheme.weights.charm", 5, "scheme.weights.charm", "as a name must be"),
]

ANSWER = {"strength": "absent"}
ROW = {"leaky-valve": 0.5, "stiff-wall": 0.4, "nothing-wrong": 0.1}
FIND = "findings[0]"
EVID = "findings[1].evidence"

ERRORS = [
    # hypotheses
    ("hypotheses[0].prior", 0.4, "hypotheses", "priors sum to 0.9"),
    ("hypotheses[0].diagnosis", "leaky-valves", "hypotheses[0].diagnosis", "mean leaky-valve?"),
    ("hypotheses[1].diagnosis", "leaky-valve", "hypotheses[1].diagnosis", "already stands"),
    ("truth[0]", "gout", "truth[0]", "no hypothesis 'gout'"),
    ("truth[1]", "leaky-valve", "truth[1]", "already stands"),
    # stages
    ("stages[1].id", "first", "stages[1].id", "already stands"),
    ("stages[0].moves[1]", MISSING, "stages[2]", "no move leads"),
    ("stages[0].moves[1].to", "heaven", "stages[0].moves[1].to", "no stage 'heaven'"),
    (
        "stages[1].moves[0]",
        {"to": "worse", "on_step": "drug"},
        "stages[1].moves[0].to",
        "its own stage",
    ),
    (
        "stages[0].moves[2]",
        {"to": "better", "after_minutes": 3},
        "stages[0].moves[2].after_minutes",
        "keep one",
    ),
    ("stages[0].moves[1].on_step", "potion", "stages[0].moves[1].on_step", "no step 'potion'"),
    ("stages[0].moves[1].on_step", "both", "stages[0].moves[1].on_step", "made of other steps"),
    ("stages[0].moves[1].on_step", MISSING, "stages[0].moves[1]", "either after_minutes"),
    ("stages[0].moves[1].after_minutes", 2, "stages[0].moves[1]", "either after_minutes"),
    ("stages[0].moves[0].when", {"site": "apex"}, "stages[0].moves[0].when", "only a move on"),
    (
        "stages[0].moves[1].when",
        {"site": "apex"},
        "stages[0].moves[1].when.site",
        "drug takes no site",
    ),
    (
        "stages[0].moves[2]",
        {"to": "worse", "on_step": "press", "when": {"effort": "not light | firm"}},
        "stages[0].moves[2].when",
        "no technique of press",
    ),
    (
        "stages[0].moves[2]",
        {"to": "worse", "on_step": "drug"},
        "stages[0].moves[2].on_step",
        "takes every drug already",
    ),
    # findings
    ("findings[1].id", "blow", "findings[1].id", "already stands"),
    ("findings[0].step", "lisen", "findings[0].step", "did you mean listen?"),
    ("findings[0].step", "both", "findings[0].step", "made of other steps"),
    ("findings[1].stages[0]", "dawn", "findings[1].stages[0]", "no stage 'dawn'"),
    ("findings[1].stages[1]", "first", "findings[1].stages[1]", "already stands"),
    # answers
    (f"{FIND}.answers[2]", MISSING, f"{FIND}.answers[1].when", "last answer must have no"),
    (f"{FIND}.answers[3]", ANSWER, f"{FIND}.answers[3].when", "earlier answers take all"),
    (
        f"{FIND}.answers[1].when",
        {"site": "apex", "posture": "sitting"},
        f"{FIND}.answers[1].when",
        "earlier answers take all",
    ),
    (f"{FIND}.answers[0].when.site", "toe", f"{FIND}.answers[0].when.site", "no site 'toe'"),
    (f"{FIND}.answers[0].when.effort", "firm", f"{FIND}.answers[0].when.effort", "no effort"),
    (
        f"{FIND}.answers[0].when.posture",
        ">= sitting",
        f"{FIND}.answers[0].when.posture",
        "not graded",
    ),
    (f"{FIND}.answers[0].says", " ", f"{FIND}.answers[0].says", "write what is perceived"),
    # outcomes
    (f"{FIND}.answers[0].outcome", "loud", f"{FIND}.answers[0].outcome", "'loud'"),
    (f"{FIND}.answers[0].outcome", None, f"{FIND}.evidence", "no answer names any"),
    (f"{FIND}.evidence", None, f"{FIND}.answers[0].outcome", "'present'"),
    (f"{FIND}.answers[2].outcome", "present", f"{FIND}.answers[2].outcome", "strength is absent"),
    (f"{FIND}.answers[0].outcome", "absent", f"{FIND}.answers[0].outcome", "strength is clear"),
    # evidence
    (f"{FIND}.evidence.source", "a book", f"{FIND}.evidence.source", "author, journal and year"),
    (f"{FIND}.evidence.source", " ", f"{FIND}.evidence.source", "author, journal and year"),
    (f"{FIND}.evidence.ratios", None, f"{FIND}.evidence", "either a table or ratios"),
    (
        f"{EVID}.ratios",
        {"targets": ["leaky-valve"], "positive": 2, "negative": 0.5},
        EVID,
        "either a table or ratios",
    ),
    (
        f"{FIND}.evidence.ratios.targets",
        ["leaky-valve", "stiff-wall", "nothing-wrong"],
        f"{FIND}.evidence.ratios.targets",
        "tells nothing",
    ),
    (
        f"{FIND}.evidence.ratios.targets[0]",
        "gout",
        f"{FIND}.evidence.ratios.targets[0]",
        "no hypothesis 'gout'",
    ),
    (
        f"{FIND}.evidence.ratios.targets[1]",
        "leaky-valve",
        f"{FIND}.evidence.ratios.targets[1]",
        "already stands",
    ),
    (f"{EVID}.table[1].outcome", "deep", f"{EVID}.table[1].outcome", "already stands"),
    (f"{EVID}.table[1]", MISSING, f"{EVID}.table", "at least two outcomes"),
    (f"{EVID}.table[0].given.leaky-valve", 0.6, f"{EVID}.table", "'leaky-valve' sum to 1.1"),
    (
        f"{EVID}.table[0].given.stiff-wall",
        MISSING,
        f"{EVID}.table[0].given",
        "lacks the hypothesis 'stiff-wall'",
    ),
    (f"{EVID}.table[0].given.gout", 0.1, f"{EVID}.table[0].given.gout", "no hypothesis"),
    (
        f"{EVID}.table[2]",
        {"outcome": "x", "given": dict.fromkeys(ROW, 0.0)},
        f"{EVID}.table[2].given",
        "cannot happen",
    ),
    # scheme
    ("scheme.weights.safety", MISSING, "scheme.weights", "lack safety"),
    ("scheme.weights.safety", 20, "scheme.weights", "sum to 110"),
    ("scheme.routine[0].id", "hear", "scheme.routine[0].id", "already stands"),
    ("scheme.essential[0].step", "look", "scheme.essential[0].step", "no step 'look'"),
    ("scheme.essential[0].step", "both", "scheme.essential[0].step", "made of other steps"),
    ("scheme.essential[0].when.site", "toe", "scheme.essential[0].when.site", "no site 'toe'"),
    ("scheme.essential[0].well.effort", "firm", "scheme.essential[0].well.effort", "no effort"),
    ("scheme.essential[0].well.site", "base", "scheme.essential[0]", "no technique of listen"),
    ("scheme.essential[0].stages", ["dawn"], "scheme.essential[0].stages[0]", "no stage"),
    (
        "scheme.unsafe[0]",
        {"step": "listen", "why": "never"},
        "scheme.essential[0]",
        "forbids it",
    ),
    ("scheme.unsafe[0].step", "potion", "scheme.unsafe[0].step", "no step 'potion'"),
    ("scheme.unsafe[0].when", {"site": "apex"}, "scheme.unsafe[0].when.site", "takes no site"),
    (
        "scheme.unsafe[0]",
        {"step": "press", "when": {"effort": "not light | firm"}, "why": "never"},
        "scheme.unsafe[0]",
        "no technique of press",
    ),
    ("scheme.unsafe[0].stages", ["dawn"], "scheme.unsafe[0].stages[0]", "no stage"),
    ("scheme.order[0].before", "smell", "scheme.order[0].before", "no wanted step 'smell'"),
    ("scheme.order[0].after", "smell", "scheme.order[0].after", "no wanted step 'smell'"),
    (
        "scheme.order[1]",
        {"before": "hear", "after": "feel", "why": "no"},
        "scheme.order",
        "goes in a circle",
    ),
    # leaks of the truth
    ("slug", "leaky-valve-case", "slug", "names a hypothesis"),
    ("title", "A Leaking valve of Orme", "title", "names a hypothesis"),
    ("opening", "Her doctor suspects an ORME VALVE.", "opening", "names a hypothesis"),
    ("opening", "Known LVO.", "opening", "names a hypothesis"),
    ("patient.name", "Mrs Orme-Valve", "patient.name", "names a hypothesis"),
    ("patient.occupation", "has a leaky valve", "patient.occupation", "names a hypothesis"),
    ("stages[1].notice", "The orme valve leaks.", "stages[1].notice", "names a hypothesis"),
]

WARNINGS = [
    ("opening", "A rigid wall, perhaps.", "opening", "names a hypothesis"),
    (f"{FIND}.answers[0].says", "It is the orme valve.", f"{FIND}.answers[0].says", "describe"),
    ("title", "The leaking boat", "title", "a word of the answer"),
    ("slug", "leaking-boat", "slug", "a word of the answer"),
    (
        f"{FIND}.evidence.ratios.negative",
        0,
        f"{FIND}.evidence.ratios.negative",
        "rules the targets out",
    ),
    ("scheme.minutes", 0.5, "scheme.minutes", "take 1 minutes"),
    (
        f"{EVID}.table",
        [
            {"outcome": "deep", "given": dict.fromkeys(ROW, 0.25)},
            {"outcome": "none", "given": dict.fromkeys(ROW, 0.75)},
        ],
        f"{EVID}.table",
        "tells nothing",
    ),
    (f"{EVID}.table[0].given.leaky-valve", 1.0, f"{EVID}.table", "certain"),
]


def test_the_good_case_has_no_problem(good, catalogue):
    review = check_case(good, catalogue)
    assert review.problems == ()
    assert review.is_fit


@pytest.mark.parametrize(("path", "value", "where", "words"), SHAPE)
def test_a_wrong_shape_is_told_in_words(good, catalogue, path, value, where, words):
    spoil(good, path, value)
    review = check_case(good, catalogue)
    assert review.document is None
    assert not review.is_fit
    assert any(p.path == where and words in p.message for p in review.problems), review.problems
    assert {p.severity for p in review.problems} == {"error"}


@pytest.mark.parametrize(("path", "value", "where", "words"), ERRORS)
def test_a_broken_rule_is_an_error_at_its_place(good, catalogue, path, value, where, words):
    spoil(good, path, value)
    review = check_case(good, catalogue)
    assert any(p.path == where and words in p.message for p in review.errors), review.problems
    assert not review.is_fit


@pytest.mark.parametrize(("path", "value", "where", "words"), WARNINGS)
def test_a_doubt_is_a_warning_at_its_place(good, catalogue, path, value, where, words):
    spoil(good, path, value)
    problems = check_case(good, catalogue).problems
    found = [p for p in problems if p.path == where and words in p.message]
    assert found, problems
    assert {p.severity for p in found} == {"warning"}
