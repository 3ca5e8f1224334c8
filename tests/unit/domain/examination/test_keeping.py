"""Which parts of a sentence are requests of their own, and how far a reading is trusted."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.core.fixtures import load_resolver
from casebank.domain.examination import keeping, trusting
from casebank.domain.examination.judgement import BIAS, chance
from casebank.domain.examination.weights import KEEP, TAKE


def steps(text):
    return [one.step for one in load_resolver().resolve(text).requests]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Cough: how long? dry or productive? triggers?", ["ask-cough-detail"]),
        ("chest x-ray PA, is the heart big, any fluid at the bases", ["chest-film"]),
        (
            "PMH, DH, allergies, SH",
            ["ask-past-history", "ask-drugs", "ask-allergies", "ask-social"],
        ),
        (
            "liver, spleen, kidneys, aorta",
            ["liver-edge", "spleen-tip", "kidneys-ballot", "aorta-width"],
        ),
        ("temp and weight please", ["temperature", "weight"]),
        ("ECG, then a troponin", ["ecg", "troponin"]),
    ],
)
def test_details_are_dropped_and_lists_are_kept(text, wanted):
    assert steps(text) == wanted


def test_every_weight_is_of_a_trait_that_can_be_seen():
    resolver = load_resolver()
    seen: set[str] = set()
    taken: set[str] = set()
    for text in TEXTS:
        reading = resolver.reading(text)
        parts = resolver.sentences.parts(reading)
        sentences = resolver.sentences
        for one in keeping.traits(parts, reading, sentences.grounds) if len(parts) > 1 else ():
            seen |= one.keys()
        for part in parts:
            taken |= trusting.traits(part, reading, sentences.grounds).keys()
    after = {name for name in KEEP if name.startswith(("after ", "before "))}
    assert KEEP.keys() - after - seen <= {BIAS}
    assert TAKE.keys() - taken <= {BIAS}


TEXTS = (
    "feel the pulse, listen to the heart and take the blood pressure",
    "does it hurt? where is the pain; then press on the tummy",
    "chest x-ray ?pneumonia / ECG (any chest pain?)",
    "look at the hands. any clubbing or tremor?",
)


@given(st.dictionaries(st.sampled_from(sorted(KEEP)), st.floats(-50, 50)))
def test_a_chance_is_between_nought_and_one(traits):
    assert 0 < chance(traits, KEEP) < 1


def test_the_likeliest_part_always_stands():
    resolver = load_resolver()
    for text in TEXTS:
        reading = resolver.reading(text)
        parts = resolver.sentences.parts(reading)
        assert keeping.kept(parts, reading, resolver.sentences.grounds)


def test_words_that_all_names_of_a_step_share_speak_for_it():
    sentences = load_resolver().sentences
    evidence = sentences.grounds.affinity.of(["babinski"])
    best = sentences.index.entries[int(evidence.argmax())].step.slug
    assert best == "plantar-response"
    assert not sentences.grounds.affinity.of(["nosuchword"]).any()
