"""What holds of the resolver for any text at all."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.core.fixtures import load_catalogue, load_resolver, load_word_table
from casebank.domain.encounter.model import Request
from casebank.domain.examination.lexicon import EMPTY, FOLLOW_MARKERS, KEPT, NEGATORS, VERBS
from casebank.domain.examination.resolution import Status
from casebank.domain.examination.resolve import Resolver
from casebank.domain.examination.spelling import Speller
from casebank.domain.examination.stems import key_of
from tests.evaluation.entries import load_phrasings

WORDS = sorted(
    {
        word
        for step in load_catalogue().steps.values()
        for text in (step.label, *step.synonyms)
        for word in text.split()
    }
    | {"left", "right", "both", "without", "not", "again", "other", "side", "and", ",", "then", "5"}
)
sentences = st.lists(st.sampled_from(WORDS), max_size=14).map(" ".join)
texts = st.one_of(st.text(max_size=700), sentences)
requests = st.sampled_from(
    [None, Request("auscultate-heart", {"site": "apex"}), Request("ankle-oedema", {})]
)


@settings(max_examples=150)
@given(texts, requests)
def test_any_text_is_answered_and_every_value_is_one_the_step_takes(text, previous):
    found = load_resolver().resolve(text, previous)
    assert bool(found.requests) == (found.status is Status.UNDERSTOOD)
    assert bool(found.alternatives) == (found.status is Status.ASK_BACK)
    for one in (*found.requests, *found.alternatives):
        step = load_catalogue().steps[one.step]
        assert 0 <= one.confidence <= 1
        for slot, value in one.technique.items():
            taken = step.slot(slot)
            assert taken is not None
            assert value in taken.values


@settings(max_examples=60)
@given(sentences, requests)
def test_the_same_words_always_mean_the_same(text, previous):
    first = load_resolver().resolve(text, previous)
    load_resolver().resolve("something else")
    assert load_resolver().resolve(text, previous) == first


@settings(max_examples=200)
@given(sentences, requests)
def test_words_that_do_not_lean_read_the_same_after_any_request(text, previous):
    alone = load_resolver().resolve(text)
    after = load_resolver().resolve(text, previous)
    assert after.leans == alone.leans
    assert alone.leans or after == alone


EVERY = 6
"""One phrasing in so many: reading all of them twice takes minutes."""


def test_no_phrasing_that_does_not_lean_reads_otherwise_after_a_request():
    earlier = Request("auscultate-heart", {"site": "apex", "instrument": "bell"})
    texts = [one.text for one in load_phrasings()][::EVERY]
    alone = {text: load_resolver().resolve(text) for text in texts}
    upright = [text for text in texts if not alone[text].leans]
    assert len(upright) > len(texts) / 2
    assert [t for t in upright if load_resolver().resolve(t, earlier) != alone[t]] == []


@pytest.mark.parametrize("text", ["now the other side", "with the bell", "again", "not the apex"])
def test_words_that_need_a_request_before_say_that_they_lean(text):
    assert load_resolver().resolve(text).leans


def test_a_second_resolver_of_the_same_catalogue_agrees():
    other = Resolver(load_catalogue(), load_word_table())
    for text in ("oedma of the ankels", "bell at the apex", "feel the pulse and listen"):
        assert other.resolve(text) == load_resolver().resolve(text)


@settings(max_examples=60)
@given(st.text(alphabet="qxzjv", min_size=9, max_size=14))
def test_an_unknown_word_is_not_understood_and_is_told(word):
    found = load_resolver().resolve(word)
    assert found.status is Status.NOT_UNDERSTOOD
    assert found.not_understood == (word,)


@settings(max_examples=60)
@given(sentences)
def test_a_side_is_never_given_that_was_not_said(text):
    said = {word.lower().strip(",.?()'\"") for word in text.replace("-", " ").split()}
    for one in load_resolver().resolve(text).requests:
        side = one.technique.get("side")
        if side in ("left", "right"):
            other = {"left": "l", "right": "r"}[side]
            assert said & {side, other, side + "sided", side + "hand"} or "-" in text


@given(st.sampled_from(WORDS))
def test_stemming_a_stem_of_a_word_never_fails(word):
    assert key_of(word.lower())


def test_word_lists_do_not_contradict_each_other():
    for one, two in (
        (EMPTY, KEPT),
        (EMPTY, NEGATORS),
        (EMPTY, FOLLOW_MARKERS),
        (EMPTY, frozenset(VERBS)),
    ):
        assert not one & two


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("ausculate", ("auscultate",)),
        ("auscultate", ("auscultate",)),
        ("bloodpressure", ("blood", "pressure")),
        ("ecg", ("ecg",)),
        ("ekh", ("ekh",)),
        ("pulsee", ("pulse",)),
        ("zzzzqqqq", ("zzzzqqqq",)),
    ],
)
def test_spelling_is_mended_only_where_one_word_is_near(word, meant):
    assert Speller(["auscultate", "blood", "pressure", "ecg", "pulse"]).meant(word) == meant


READ_AND_PRINT = """
import sys
from casebank.core.fixtures import load_resolver
from casebank.domain.encounter.model import Request
after = Request("liver-edge", {})
for text in sys.argv[1:]:
    print(load_resolver().resolve(text), load_resolver().resolve(text, after))
"""


def test_every_process_reads_a_text_alike_to_the_last_digit():
    said = [one.text for one in load_phrasings()[::400]] + [
        "percus its upper and lower borders",
        "ulcer on the inside above the ankle, left, sorry my left, your right, size it with a ruler",
    ]
    read = {
        subprocess.run(
            [sys.executable, "-c", READ_AND_PRINT, *said],
            env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True,
        ).stdout
        for seed in ("1", "2")
    }  # fmt: skip
    assert len(read) == 1
