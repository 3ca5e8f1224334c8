"""The names of signs: what is broader than what, and what the reader of the files finds wrong."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest

from casebank.domain.examination.vocabulary import SIGN, Term
from casebank.domain.examination.vocabulary_text import vocabulary_of, vocabulary_problems
from tests.factories.records import shipped_catalogue

SHIPPED = shipped_catalogue().vocabulary
SMALL = """
[[family]]
slug = "murmur"
label = "Murmurs"
[[feature]]
slug = "timing"
label = "Timing"
families = ["murmur"]
term = [
  { slug = "systolic", label = "systolic" },
  { slug = "pansystolic", label = "pansystolic", broader = "systolic" },
]
[[feature]]
slug = "grade"
label = "Grade"
families = ["murmur"]
within = 1
term = [{ slug = "1", label = "grade 1", rank = 1 }, { slug = "3", label = "grade 3", rank = 3 }]
[[sign]]
slug = "murmur"
label = "Murmur"
family = "murmur"
[[sign]]
slug = "psm"
label = "Pansystolic murmur"
family = "murmur"
broader = "murmur"
implies = { timing = "pansystolic" }
"""


def read(text):
    return vocabulary_of({"signs.toml": tomllib.loads(text)}, {})


def test_the_shipped_vocabulary_has_nothing_wrong():
    assert len(SHIPPED.signs) > 100
    assert list(vocabulary_problems(SHIPPED)) == []


def test_a_small_vocabulary_is_read_as_written():
    found = read(SMALL)
    assert list(vocabulary_problems(found)) == []
    assert set(found.signs) == {"murmur", "psm"}
    assert set(found.features) == {"timing", "grade", SIGN}
    assert found.signs["psm"].made_of == {"timing": "pansystolic"}
    assert found.label(SIGN, "psm") == "Pansystolic murmur"


def test_kinds_run_from_the_value_to_the_broadest():
    found = read(SMALL)
    assert list(found.kinds_of(SIGN, "psm")) == ["psm", "murmur"]
    assert found.is_kind_of("timing", "pansystolic", "systolic")
    assert not found.is_kind_of("timing", "systolic", "pansystolic")


def test_every_shipped_value_is_a_kind_of_itself_and_of_its_broader():
    for name, feature in SHIPPED.features.items():
        for term in feature.terms.values():
            assert SHIPPED.is_kind_of(name, term.slug, term.slug)
            if term.broader:
                assert SHIPPED.is_kind_of(name, term.slug, term.broader)
                assert not SHIPPED.is_kind_of(name, term.broader, term.slug)


def test_only_graded_values_within_the_tolerance_are_near():
    assert SHIPPED.is_near("grade", "2", "3")
    assert not SHIPPED.is_near("grade", "1", "3")
    assert not SHIPPED.is_near("timing", "systolic", "pansystolic")
    assert not read(SMALL).is_near("grade", "1", "3")


@pytest.mark.parametrize(
    ("old", "new", "problem"),
    [
        ('families = ["murmur"]\nterm', 'families = ["lung"]\nterm', "no family 'lung'"),
        ('broader = "systolic"', 'broader = "nowhere"', "no broader 'nowhere'"),
        (
            '{ slug = "systolic", label = "systolic" }',
            '{ slug = "systolic", label = "systolic", broader = "pansystolic" }',
            "broader than itself",
        ),
        ('label = "grade 3", rank = 3', 'label = "grade 3"', "needs a rank"),
        ('implies = { timing = "pansystolic" }', 'implies = { hue = "x" }', "no feature 'hue'"),
        ('implies = { timing = "pansystolic" }', 'implies = { timing = "x" }', "no value 'x'"),
        (
            'family = "murmur"\nbroader',
            'family = "lung"\nbroader',
            "no family 'lung'",
        ),
    ],
)
def test_each_mistake_is_said(old, new, problem):
    assert SMALL.count(old) == 1
    found = list(vocabulary_problems(read(SMALL.replace(old, new))))
    assert any(problem in one for one in found), found


def test_a_sign_whose_family_lacks_the_feature_is_said():
    text = SMALL.replace('families = ["murmur"]\nterm', 'families = ["pulse"]\nterm')
    text += '[[family]]\nslug = "pulse"\nlabel = "Pulses"\n'
    assert list(vocabulary_problems(read(text))) == [
        "sign psm: its family has no timing",
        "sign psm: its family has no timing",
    ]


def test_a_longer_circle_is_found_too():
    found = read(SMALL)
    timing = found.features["timing"]
    terms = {
        "a": Term("a", "a", broader="b"),
        "b": Term("b", "b", broader="c"),
        "c": Term("c", "c", broader="a"),
    }
    features = {**found.features, "timing": replace(timing, terms=terms)}
    circles = [
        one
        for one in vocabulary_problems(replace(found, features=features))
        if "broader than itself" in one
    ]
    assert len(circles) == 3
