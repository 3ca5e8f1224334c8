"""What a request reveals, costs and changes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from casebank.domain.encounter.codec import state_from_json, state_to_json
from casebank.domain.encounter.engine import answer, conclude, open_state, state_differential
from casebank.domain.encounter.model import EncounterError, Request, State

CLEAN = Request("hand-hygiene")
WELL = Request("heart-auscultate", {"site": "apex", "posture": "left-lateral"})


def after(case, *requests: Request) -> tuple[dict, State]:
    state, payload = open_state(case), {}
    for request in requests:
        payload, state = answer(case, state, request)
    return payload, state


def test_the_right_technique_shows_the_sign(small):
    payload, _ = after(small, CLEAN, WELL)
    assert payload["shown"] == ["A blowing sound through systole."]


def test_a_careless_technique_gives_the_normal_finding(small):
    payload, _ = after(small, CLEAN, Request("heart-auscultate", {"site": "apex"}))
    assert payload["shown"] == ["Two heart sounds, nothing added."]
    assert payload["seen"][0]["outcome"] is None


def test_what_is_not_said_takes_the_steps_default(small):
    payload, _ = after(small, CLEAN, Request("heart-auscultate"))
    assert payload["technique"] == {"site": "apex", "posture": "supine"}
    assert payload["said"] == {}


def test_minutes_always_pass(small):
    _, state = after(small, CLEAN, WELL, WELL)
    assert state.minute == 0.5 + 2 + 2


def test_a_wanted_step_costs_no_surcharge(small):
    payload, _ = after(small, CLEAN, WELL)
    assert (payload["charge"]["reason"], payload["charge"]["surcharge"]) == ("due", 0)


def test_a_repeat_without_change_costs_the_full_price(small):
    payload, state = after(small, CLEAN, WELL, WELL)
    assert payload["charge"]["reason"] == "repeat"
    assert payload["charge"]["surcharge"] == payload["charge"]["price"] == state.surcharge == 2


def test_a_repeat_is_due_again_after_the_schemes_minutes(small):
    _, state = after(small, CLEAN, WELL)
    payload, _ = answer(small, replace(state, minute=22.5), WELL)
    assert payload["charge"]["reason"] == "due"


def test_an_unneeded_step_costs_its_price_less_what_it_may_tell(small):
    _, state = after(small, CLEAN, WELL)
    axilla = Request("heart-auscultate", {"site": "axilla"})
    charge = answer(small, state, axilla)[0]["charge"]
    expected = charge["price"] * (1 - charge["information"] / charge["tau"])
    assert charge["reason"] == "unneeded"
    assert charge["surcharge"] == pytest.approx(expected, abs=1e-6)


def test_a_step_outside_the_scheme_that_may_tell_much_is_due(small):
    payload, _ = after(small, CLEAN, Request("apex-palpate", {"effort": "firm"}))
    assert payload["charge"]["information"] > small.document.scheme.tau
    assert payload["charge"]["reason"] == "due"


def test_a_contraindicated_step_is_unsafe_and_raises_a_flag(small):
    state = replace(open_state(small), stage="later")
    payload, later = answer(small, state, Request("apex-palpate", {"effort": "firm"}))
    assert payload["charge"]["reason"] == "unsafe"
    assert payload["charge"]["surcharge"] == payload["charge"]["price"]
    assert later.flags == ("It hurts her then.",)


def test_touching_before_the_hands_are_clean_is_unsafe(published):
    case = published[0]
    payload, state = answer(case, open_state(case), Request("radial-pulse-rate"))
    assert payload["charge"]["reason"] == "unsafe"
    assert state.flags == ("This step needs introduction and consent first.",) or (
        "This step needs clean hands first." in state.flags
    )


def test_the_stage_in_force_when_the_request_is_made_answers_it(small):
    state = replace(open_state(small), minute=12.0)
    payload, later = answer(small, state, WELL)
    assert payload["stage"] == "start"
    assert (later.stage, later.stage_since) == ("later", 14.0)
    assert payload["notice"] == "She is more at ease."


def test_nothing_can_be_asked_after_the_conclusion(small):
    _, state = conclude(small, open_state(small), {"aortic-stenosis": 0.6}, "A murmur.", "")
    with pytest.raises(EncounterError, match="concluded"):
        answer(small, state, WELL)


@pytest.mark.parametrize(
    ("step", "technique", "words"),
    [
        ("no-such-step", {}, "no step"),
        ("heart-auscultate", {"site": "knee"}, "choose one of apex, axilla"),
        ("heart-auscultate", {"instrument": "bell"}, "takes no instrument"),
    ],
)
def test_a_technique_that_cannot_be_is_refused_with_a_way_out(small, step, technique, words):
    with pytest.raises(EncounterError, match=words):
        answer(small, open_state(small), Request(step, technique))


@pytest.mark.parametrize(
    ("probabilities", "words"),
    [
        ({"aortic-stenosis": 0.7, "mitral-regurgitation": 0.4}, "more than 100"),
        ({"aortic-stenosis": -0.1}, "between 0 and 100"),
        ({"the-vapours": 0.1}, "no diagnosis"),
    ],
)
def test_an_impossible_differential_is_refused(small, probabilities, words):
    with pytest.raises(EncounterError, match=words):
        state_differential(small, open_state(small), probabilities)


def test_a_differential_is_logged_beside_what_the_evidence_supports(small):
    _, state = after(small, CLEAN, WELL)
    payload, _ = state_differential(small, state, {"mitral-regurgitation": 0.8})
    # Odds form: 0.625/0.375 x 5.4 = 9, so 0.9.
    assert payload["supported"]["mitral-regurgitation"] == pytest.approx(0.9, abs=1e-6)


def test_a_state_survives_being_stored(small):
    _, state = after(small, CLEAN, WELL, Request("apex-palpate"))
    assert state_from_json(state_to_json(state)) == state
