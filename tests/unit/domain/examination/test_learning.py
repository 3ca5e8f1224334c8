"""The learning of the resolver's weights: what it may read, and that it finds what tells."""

from __future__ import annotations

import random

from casebank.domain.examination.judgement import chance
from tests.evaluation import learn, readers
from tests.evaluation.entries import load_phrasings
from tests.evaluation.rows import Row


def rows(count=400, seed=3):
    draw = random.Random(seed)
    for _ in range(count):
        tells, noise = draw.random(), draw.random()
        is_right = draw.random() < tells
        yield Row({"tells": tells, "noise": noise, "always": 1.0}, is_right, 1.0)


def test_the_trait_that_tells_gets_the_weight_and_a_constant_none():
    table = learn.learned(list(rows()), strength=1.0)
    assert table["tells"] > 1
    assert abs(table.get("noise", 0.0)) < table["tells"] / 3
    assert "always" not in table


def test_the_chances_agree_with_how_often_it_was_right():
    table = learn.learned(list(rows(4000)), strength=10.0)
    told = [(chance(row.traits, table), row.is_right) for row in rows(4000, seed=4)]
    likely = [right for value, right in told if value > 0.7]
    assert abs(sum(likely) / len(likely) - 0.82) < 0.08


def test_made_pairs_join_texts_that_may_be_read_and_ask_for_different_steps():
    texts = [one for one in load_phrasings() if one.half == "tune"]
    made = list(readers.pairs(texts, 200, seed=7))
    assert len(made) > 100
    assert all(len({one.step for one in each.requests}) == len(each.requests) for each in made)
    assert made == list(readers.pairs(texts, 200, seed=7))
