"""Conditions as a reader says them."""

from __future__ import annotations

import pytest

from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.conditions import in_words
from tests.factories.cases import SMALL_TEXTS


@pytest.mark.parametrize(
    ("conditions", "words"),
    [
        ({}, ""),
        ({"site": "apex | axilla"}, "the apex or the axilla"),
        (
            {"site": "apex", "posture": "not supine"},
            "the apex, not lying flat",
        ),
        ({"effort": ">= firm"}, "firm pressure or more"),
        ({"effort": "<= light"}, "light touch or less"),
        ({"site": "*"}, "any site"),
        ({"site": "unknown-place"}, "unknown-place"),
    ],
)
def test_conditions_are_said_with_the_lexicons_labels(conditions, words):
    assert in_words(conditions, parse_catalogue(SMALL_TEXTS)) == words
