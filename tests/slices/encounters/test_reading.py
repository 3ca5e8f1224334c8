"""How typed or picked words become requests, before any patient answers them."""

from __future__ import annotations

import json

import pytest

from casebank.core.fixtures import load_catalogue
from casebank.domain.encounter.model import EncounterError, State
from casebank.encounters.reading import AskedBack, picking, saying

CATALOGUE = load_catalogue()
WHOLE = CATALOGUE.steps["hand-joint-examination"]


def offered(text):
    with pytest.raises(AskedBack) as asked:
        saying(text)(CATALOGUE, State("first"))
    return asked.value.choices


def test_a_side_said_of_a_whole_examination_holds_for_every_part_that_takes_it():
    everything, *parts = offered("examine the joints of the left hand")
    assert "left" in everything.label
    done = picking(everything.value)(CATALOGUE, State("first"))
    assert [one.step for one in done] == list(WHOLE.parts)
    assert {one.technique.get("side") for one in done} == {"left"}
    assert [json.loads(one.value)["technique"] for one in parts] == [{"side": "left"}] * len(parts)


def test_a_whole_examination_without_a_side_leaves_each_part_to_its_own():
    everything = offered("examine the joints of the hands")[0]
    done = picking(everything.value)(CATALOGUE, State("first"))
    assert all("side" not in one.technique for one in done)


def test_a_side_that_a_part_cannot_take_is_left_out_of_that_part():
    asked = json.dumps({"step": "lower-limb-neurology", "technique": {"side": "right"}, "all": 1})
    done = {one.step: one.technique for one in picking(asked)(CATALOGUE, State("first"))}
    assert done["knee-jerk"] == {"side": "right"}
    takes = {slug: CATALOGUE.steps[slug].slot("side") for slug in done}
    assert all(done[slug] == {} for slug, slot in takes.items() if slot is None)


def test_a_value_that_the_whole_cannot_take_is_refused_in_words():
    asked = json.dumps({"step": WHOLE.slug, "technique": {"side": "upper"}, "all": True})
    with pytest.raises(EncounterError, match=r"no such side\. Choose one of: both sides, left"):
        picking(asked)(CATALOGUE, State("first"))
