"""A silent child is started again: not too soon, not too often, not for what is no fault of it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.core.supervise.vigil import GRACE, MOST_DOUBLINGS, Vigil, after_look

LIMIT = 120.0
NOON = datetime(2026, 1, 1, 12, tzinfo=UTC)


def sign(seconds: float) -> datetime:
    return NOON + timedelta(seconds=seconds)


def seen(at: float, **facts: float) -> Vigil:
    return Vigil(limit=LIMIT, started_at=0, seen_at=at, sign=sign(at), **facts)


def test_it_is_stale_just_past_the_limit():
    assert not seen(1000).is_stale(1120)
    assert seen(1000).is_stale(1120.1)


def test_a_new_sign_begins_the_silence_anew_and_an_old_one_does_not():
    vigil = seen(1000)
    assert vigil.looked(sign(1000), 1100) == vigil
    assert vigil.looked(None, 1100) == vigil
    assert vigil.looked(sign(1030), 1100).silence(1100) == 0


def test_a_start_has_a_grace_before_its_silence_counts():
    vigil = Vigil.begun(LIMIT, now=50)
    assert not vigil.is_stale(50 + GRACE + LIMIT)
    assert vigil.is_stale(50 + GRACE + LIMIT + 1)


def test_the_sign_of_an_earlier_run_neither_blames_nor_proves_life():
    begun = Vigil.begun(LIMIT, now=0)
    looked = begun.looked(sign(-90_000), 1)
    assert not looked.is_stale(1)
    assert looked.seen_at == begun.seen_at


def test_a_clock_set_back_does_not_make_signs_of_life_stale():
    assert not seen(1000).looked(sign(-3600), 1030).is_stale(1100)


def test_each_restart_doubles_the_patience_up_to_a_bound():
    vigil, borne = seen(0), []
    for now in range(MOST_DOUBLINGS + 3):
        borne.append(vigil.patience)
        vigil = vigil.restarted(now)
    assert borne == [120, 240, 480, 960, 1920, 3840, 3840, 3840]


def test_one_sign_after_a_restart_does_not_undo_the_growth_but_living_on_does():
    vigil = seen(0).restarted(1000)
    assert vigil.looked(sign(1005), 1005).patience == 240
    assert vigil.looked(sign(1005), 1005).looked(sign(1245), 1245).patience == LIMIT


def test_while_the_database_is_away_nobody_is_blamed():
    vigils = {"beat": seen(0), "worker": seen(0)}
    vigils = after_look(vigils, None, 5000)
    assert not any(vigil.is_stale(5100) for vigil in vigils.values())


def test_while_beat_is_silent_the_worker_is_not_blamed():
    vigils = {"beat": seen(0), "worker": seen(-30)}
    signs = {"beat": sign(0), "worker": sign(-30)}
    for now in range(0, 1000, 6):
        vigils = after_look(vigils, signs, now)
        assert not vigils["worker"].is_stale(now)
    assert vigils["beat"].is_stale(1000)


def test_a_silent_worker_is_stale_while_beat_beats():
    vigils = {"beat": seen(0), "worker": seen(0)}
    for now in range(0, 121, 6):
        vigils = after_look(vigils, {"beat": sign(now), "worker": sign(0)}, now)
        assert not vigils["worker"].is_stale(now)
    vigils = after_look(vigils, {"beat": sign(126), "worker": sign(0)}, 126)
    assert vigils["worker"].is_stale(126)
    assert not vigils["beat"].is_stale(126)


@given(gaps=st.lists(st.floats(0.1, LIMIT - 1), min_size=2, max_size=50))
def test_signs_closer_than_the_limit_never_cost_a_restart(gaps):
    now, vigil = 0.0, Vigil.begun(LIMIT, 0)
    for gap in gaps:
        now += gap
        assert not vigil.is_stale(now)
        vigil = vigil.looked(sign(now), now)


@given(looks=st.lists(st.floats(1, 300), min_size=1, max_size=200))
def test_the_dead_are_never_started_again_sooner_than_the_time_before(looks):
    now, vigil, starts = 0.0, Vigil.begun(LIMIT, 0), [0.0]
    for pause in looks:
        now += pause
        vigil = vigil.looked(sign(0), now)
        if vigil.is_stale(now):
            vigil = vigil.restarted(now)
            starts.append(now)
    pauses = [later - sooner for sooner, later in pairwise(starts)]
    for number, pause in enumerate(pauses):
        assert pause > LIMIT * 2 ** min(number, MOST_DOUBLINGS)


@pytest.mark.parametrize("parts", [{}, {"beat": sign(0)}])
def test_a_part_never_seen_is_given_its_time_too(parts):
    vigils = {name: Vigil.begun(LIMIT, 0) for name in ("beat", "worker")}
    vigils = after_look(vigils, parts, 1)
    assert not any(vigil.is_stale(GRACE + LIMIT) for vigil in vigils.values())
