"""The student names what was heard: logged, revised until the conclusion, never judged."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.encounter.engine import conclude, replay
from casebank.domain.encounter.model import EncounterError, Reading
from casebank.domain.encounter.naming import LONGEST_READING, media_given, read_finding, reading_of
from casebank.domain.encounter.perceive import perceived
from tests.factories.heard import APEX, AXILLA, CLEAN, NOTHING_HEARD, golden_case, heard_log

CASE = golden_case("heard")
RIGHT = ({"sign": ("pansystolic-murmur",), "grade": ("3",)}, {"sign": ("third-heart-sound",)})
WRONG = ({"sign": ("fourth-heart-sound",)},)
END = {"mitral-regurgitation": 0.9}


def reading(entry, stated=RIGHT, text="a murmur", medium=0, unused=()):
    return Reading(entry, medium, text, stated, unused)


def last_state(*acts, end=None):
    return heard_log(*acts, end=end)[1]


def test_a_reading_is_an_entry_of_its_own_that_costs_nothing():
    before = last_state(APEX)
    payload, after = read_finding(CASE, before, reading(1, unused=("wibbling",)))
    assert payload == {
        "entry": 1,
        "medium": 0,
        "text": "a murmur",
        "stated": [
            {"sign": ["pansystolic-murmur"], "grade": ["3"]},
            {"sign": ["third-heart-sound"]},
        ],
        "unused": ["wibbling"],
        "minute": before.minute,
    }
    assert after.last_seq == before.last_seq + 1
    assert (after.minute, after.surcharge, after.stage) == (
        before.minute,
        before.surcharge,
        before.stage,
    )
    assert after.asked == before.asked


def test_it_is_revised_as_often_as_wanted_until_the_conclusion():
    entries, state = heard_log(APEX, reading(1), reading(1, WRONG), CLEAN, reading(1))
    assert [one.kind for one in entries] == ["request", "reading", "reading", "request", "reading"]
    _, over = conclude(CASE, state, END, "Found.", "")
    with pytest.raises(EncounterError, match="concluded"):
        read_finding(CASE, over, reading(1))


def test_right_and_wrong_are_answered_alike():
    state = last_state(APEX)
    right, after_right = read_finding(CASE, state, reading(1, RIGHT))
    wrong, after_wrong = read_finding(CASE, state, reading(1, WRONG))
    assert after_right == after_wrong
    assert {**right, "stated": 0} == {**wrong, "stated": 0}


def test_what_the_evidence_supports_does_not_hang_on_the_reading():
    supported = [
        heard_log(APEX, *readings, end=END)[0][-1].payload["supported"]
        for readings in ((), (reading(1),), (reading(1, WRONG),))
    ]
    assert supported[0] == supported[1] == supported[2]
    assert supported[0]["mitral-regurgitation"] > 0.625


@pytest.mark.parametrize(
    ("acts", "what"),
    [
        ((), reading(1)),
        ((CLEAN,), reading(1)),
        ((NOTHING_HEARD,), reading(1)),
        ((APEX,), reading(2)),
        ((APEX,), reading(1, medium=1)),
        ((APEX,), reading(1, medium=-1)),
    ],
    ids=["nothing asked", "hands", "unheard", "later entry", "no second", "before the first"],
)
def test_where_nothing_was_heard_there_is_nothing_to_name(acts, what):
    with pytest.raises(EncounterError, match=r"nothing to name.*Ask for a finding"):
        read_finding(CASE, last_state(*acts), what)


@pytest.mark.parametrize("stated", [{"hue": ("red",)}, {"sign": ("trumpet",)}])
def test_names_outside_the_vocabulary_are_refused_in_words(stated):
    with pytest.raises(EncounterError, match=r"no such (hue|sign).*other words"):
        read_finding(CASE, last_state(APEX), reading(1, (stated,)))


def test_an_endless_text_is_cut():
    payload, _ = read_finding(CASE, last_state(APEX), reading(1, text="m" * 1000))
    assert payload["text"] == "m" * LONGEST_READING


def test_findings_of_one_sound_share_one_medium():
    state = last_state(APEX, AXILLA, CLEAN)
    apex, axilla, hands = (media_given(CASE, asked) for asked in state.asked)
    assert [one.findings for one in apex] == [("murmur", "third")]
    assert [one.findings for one in axilla] == [("murmur",)]
    assert hands == ()
    assert apex[0].kind == "sound"


def test_a_request_tells_its_media_only_where_there_are_any():
    (heard, hands, unheard), _ = heard_log(APEX, CLEAN, NOTHING_HEARD)
    assert heard.payload["media"] == [{"kind": "sound", "findings": ["murmur", "third"]}]
    assert heard.payload["shown"] == []
    assert "media" not in hands.payload
    assert "media" not in unheard.payload
    assert unheard.payload["shown"] == ["Two heart sounds, nothing added."]


def test_another_technique_perceives_another_thing():
    well = {"site": "apex", "posture": "left-lateral"}
    assert len(perceived(CASE, "heart-auscultate", well, "start")) == 1
    assert perceived(CASE, "heart-auscultate", {**well, "posture": "supine"}, "start") == ()


def test_a_payload_gives_its_reading_back_even_through_json():
    payload, _ = read_finding(CASE, last_state(APEX), reading(1, unused=("x",)))
    assert reading_of(json.loads(json.dumps(payload))) == reading(1, unused=("x",))


ACTS = st.lists(st.sampled_from(["clean", "apex", "axilla", "supine", "right", "wrong"]))


@given(ACTS, st.booleans())
def test_a_replay_gives_the_same_payloads_and_the_same_state(names, is_concluded):
    requests = {"clean": CLEAN, "apex": APEX, "axilla": AXILLA, "supine": NOTHING_HEARD}
    acts, heard = [], None
    for name in names:
        if name in requests:
            acts.append(requests[name])
            heard = len(acts) if name in ("apex", "axilla") else heard
        elif heard:
            acts.append(reading(heard, RIGHT if name == "right" else WRONG, text=name))
    entries, state = heard_log(*acts, end=END if is_concluded else None)
    again, payloads = replay(CASE, entries)
    assert again == state
    assert list(payloads) == [one.payload for one in entries]
