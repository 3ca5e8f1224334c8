"""A mere verb is done where the request before was done: in the same sentence, or after it."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_resolver
from casebank.domain.encounter.model import Request
from casebank.domain.examination.resolution import Status


def resolved(text, step="", **technique):
    return load_resolver().resolve(text, Request(step, technique) if step else None)


def read(*said, **technique):
    return [(one.step, dict(one.technique)) for one in resolved(*said, **technique).requests]


BASE = {"site": "back-lower-zone", "side": "left"}


@pytest.mark.parametrize(
    ("text", "step", "technique", "wanted"),
    [
        ("now listen there", "chest-percussion", BASE, ("breath-sounds", BASE)),
        ("listen in the same place", "chest-percussion", BASE, ("breath-sounds", BASE)),
        ("percuss it", "light-palpation-abdomen", {"site": "epigastrium"},
         ("abdomen-percussion", {"site": "epigastrium"})),
        ("listen there", "femoral-pulse", {"side": "right"},
         ("femoral-bruit", {"side": "right"})),
        ("listen over it", "thyroid-palpate", {}, ("thyroid-bruit", {})),
        ("and then feel", "knee-look", {"side": "left"}, ("knee-feel", {"side": "left"})),
        ("listen there with the bell", "carotid-pulse", {"side": "left"},
         ("carotid-bruit", {"side": "left", "instrument": "bell"})),
    ],
)  # fmt: skip
def test_a_mere_verb_is_done_where_the_last_request_was(text, step, technique, wanted):
    assert read(text, step, **technique) == [wanted]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("percuss the left base at the back and then listen there",
         [("chest-percussion", BASE), ("breath-sounds", BASE)]),
        ("feel the femoral pulse and listen over it",
         [("femoral-pulse", {}), ("femoral-bruit", {})]),
        ("palpate the abdomen, then percuss it, then listen",
         [("light-palpation-abdomen", {}), ("abdomen-percussion", {}), ("bowel-sounds", {})]),
    ],
)  # fmt: skip
def test_the_request_before_may_stand_in_the_same_sentence(text, wanted):
    assert read(text) == wanted


def test_in_one_sentence_what_is_left_open_is_told_and_not_done():
    found = resolved("feel the liver edge and then percuss")
    assert [one.step for one in found.requests] == ["liver-edge"]
    assert found.not_understood == ("percuss",)


def test_where_two_steps_are_as_near_the_student_is_asked():
    found = resolved("percuss it", "liver-edge")
    assert found.status is Status.ASK_BACK
    assert {"liver-span-percuss", "abdomen-percussion"} <= {one.step for one in found.alternatives}


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("put the bell on the apex and listen", ["auscultate-heart"]),
        ("tongue depressor to the back of the throat on the right - retches? feels it?",
         ["gag-reflex"]),
        ("What am I putting in your hand? Keep your eyes closed and feel it.",
         ["cortical-sensation"]),
        ("complete chest examination in order - inspect, palpate, percuss, auscultate",
         ["respiratory-examination"]),
        ("Could I feel your dialysis fistula for the buzz and have a listen to it",
         ["fistula-graft"]),
    ],
)  # fmt: skip
def test_a_verb_that_is_part_of_the_request_asks_for_nothing_more(text, wanted):
    assert [step for step, _ in read(text)] == wanted


def test_after_what_is_done_in_no_place_a_mere_verb_is_read_as_ever():
    assert read("listen", "ask-wheeze") == read("listen")
