"""The minute ruler of neighbouring entries joins into one scale."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.core.charts.ruler import MOST_PIXELS, PIXELS_A_MINUTE, ruler

quarter_minutes = st.integers(0, 60).map(lambda n: n / 4)


@given(start=quarter_minutes, first=quarter_minutes, second=quarter_minutes)
def test_two_entries_have_the_ticks_of_one_that_is_as_long(start, first, second):
    both = ruler(start=start, minutes=first + second)
    parts = [ruler(start=start, minutes=first), ruler(start=start + first, minutes=second)]
    if both.is_cut or any(part.is_cut for part in parts):
        return
    assert len(both.ticks) == sum(len(part.ticks) for part in parts)


@given(start=quarter_minutes, minutes=quarter_minutes)
def test_every_whole_minute_drawn_has_a_tick_at_its_place(start, minutes):
    drawn = ruler(start=start, minutes=minutes)
    assert all(0 <= tick.y < max(drawn.height, 0.01) for tick in drawn.ticks)
    for tick in drawn.ticks:
        minute = start + tick.y / PIXELS_A_MINUTE
        assert math.isclose(minute, round(minute), abs_tol=1e-3)
        assert tick.is_major == (round(minute) % 5 == 0)


def test_a_long_wait_is_cut_and_says_so():
    assert ruler(start=0, minutes=90).is_cut
    assert ruler(start=0, minutes=90).height == MOST_PIXELS


def test_time_does_not_run_backwards():
    with pytest.raises(ValueError, match="not negative"):
        ruler(start=-1, minutes=2)
