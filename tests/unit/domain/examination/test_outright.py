"""A text is read whole or cut by what its words say, before its parts are compared with names."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.core.fixtures import load_catalogue, load_resolver
from casebank.domain.examination import alone, cutting
from casebank.domain.examination.model import Method
from casebank.domain.examination.resolution import Status
from casebank.domain.examination.resolve import Resolver
from casebank.domain.examination.tokens import STOP
from tests.evaluation.entries import load_phrasings

SOME = [one for one in load_phrasings() if one.batch == "thirteenth"][::7]


def resolver():
    return load_resolver()


def heard(text):
    reading = resolver().reading(text)
    return reading, alone.alone(reading, resolver().sentences.grounds)


def steps(text):
    return [one.step for one in resolver().resolve(text).requests]


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("get the full story of that tightness: when it began, where it goes, what eases it",
         "ask-chest-pain"),
        ("we'll need it for her predicted peak flow, so see how tall she is on the stadiometer",
         "height"),
        ("Pemberton's manoeuvre, a minute with arms up, watching for a congested face and stridor",
         "pemberton"),
    ],
)  # fmt: skip
def test_what_stands_beside_a_request_is_not_asked_for(text, step):
    assert steps(text) == [step]


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("any cough", "ask-cough"),
        ("any rashes?", "ask-rash"),
        ("press on the liver and watch the JVP", "abdominojugular-test"),
        ("bottle feed and feel", "pyloric-olive"),
    ],
)
def test_a_name_word_for_word_is_taken_for_the_one_step_it_names(text, step):
    assert steps(text) == [step]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("gel my hands, then count his pulse at the wrist", ["hand-hygiene", "radial-pulse-rate"]),
        ("peak flow standing, then let me see how you use your inhaler",
         ["peak-flow", "inhaler-technique"]),
        ("biceps and triceps jerks on the right please", ["biceps-jerk", "triceps-jerk"]),
        ("aspirin 300, a squirt of GTN and something for the pain",
         ["give-aspirin", "give-nitrate", "give-analgesia"]),
    ],
)  # fmt: skip
def test_several_requests_are_told_apart_by_what_each_part_says(text, wanted):
    assert steps(text) == wanted


@pytest.mark.parametrize("text", ["pulse and BP", "pulse, BP", "pulse then BP"])
def test_a_list_of_whole_names_is_never_one_request(text):
    assert steps(text) == ["radial-pulse-rate", "blood-pressure"]


@pytest.mark.parametrize("phrasing", SOME, ids=lambda one: one.text[:40])
def test_no_treatment_of_another_name_is_taken(phrasing):
    found = resolver().resolve(phrasing.text, phrasing.after)
    wanted = {one.step for one in phrasing.requests} | phrasing.accept
    steps_of = load_catalogue().steps
    treated = {one.step for one in found.requests if steps_of[one.step].method is Method.TREAT}
    harmful = {slug for slug in treated if steps_of[slug].discomfort or steps_of[slug].resource}
    assert harmful <= wanted


def test_without_a_table_of_words_nothing_is_heard():
    plain = Resolver(load_catalogue())
    assert plain.sentences.heard(plain.reading("count the radial pulse")) is None
    assert plain.resolve("count the radial pulse").status is Status.UNDERSTOOD


def test_what_is_denied_is_not_taken_however_clear_its_words():
    assert "rectal-examination" not in steps("I would not do a rectal examination")


@settings(max_examples=60)
@given(st.lists(st.sampled_from([one.text for one in SOME]), min_size=1, max_size=3))
def test_a_cut_holds_every_segment_with_words_once_and_in_order(texts):
    reading, whole = heard(". ".join(texts))
    if whole is None or len(reading.breaks) > cutting.MOST_SEGMENTS:
        return
    parts = cutting.likeliest(reading, resolver().sentences.grounds, whole)
    covered = [segment for part in parts for segment in part.segments]
    assert covered == sorted(set(covered))
    assert {token.segment for token in reading.tokens} <= set(covered)
    assert all(0 <= part.chance <= 1 for part in parts)


def test_a_part_of_a_reading_is_a_reading_of_its_own():
    reading = resolver().reading("inspect the hands, then feel the pulse")
    part = cutting.part_of(reading, range(1, len(reading.breaks)))
    assert part.breaks[0] == STOP
    assert min(token.segment for token in part.tokens) >= 0
    assert "pulse" in part.words
    assert "hands" not in part.words
