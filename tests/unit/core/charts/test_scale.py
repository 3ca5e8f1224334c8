"""Ticks stand at round numbers and scales keep their order."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.core.charts.scale import Scale, round_bounds, round_step, ticks, written

values = st.floats(-1e6, 1e6).filter(lambda v: v == 0 or abs(v) > 1e-6)


@given(span=st.floats(1e-6, 1e9), most=st.integers(2, 12))
def test_a_step_is_one_two_or_five_times_a_power_of_ten_and_gives_few_enough_parts(span, most):
    step = round_step(span, most)
    mantissa = step / 10 ** math.floor(math.log10(step) + 1e-9)
    assert min(abs(mantissa - m) for m in (1, 2, 5, 10)) < 1e-6
    assert span / step <= most * (1 + 1e-6)


def test_a_step_needs_a_span():
    with pytest.raises(ValueError, match="high end above the low end"):
        round_step(0)


@given(st.lists(values, min_size=1, max_size=20))
def test_round_bounds_hold_every_value(numbers):
    low, high = round_bounds(numbers)
    assert low < high
    slack = 1e-6 * max(1.0, high - low)
    assert low - slack <= min(numbers) <= max(numbers) <= high + slack


def test_bounds_of_nothing_are_zero_and_one_and_unknown_numbers_are_left_out():
    assert round_bounds([]) == (0.0, 1.0)
    assert round_bounds([math.nan, 2.0, 8.0]) == (2.0, 8.0)


def test_ticks_from_zero_to_one_are_fifths():
    assert [t.text for t in ticks(Scale(0, 1, 0, 100))] == [
        "0.0",
        "0.2",
        "0.4",
        "0.6",
        "0.8",
        "1.0",
    ]
    assert [t.place for t in ticks(Scale(0, 1, 0, 100))] == [0, 20, 40, 60, 80, 100]


def test_ticks_below_zero_have_a_true_minus_and_zero_has_none():
    assert [t.text for t in ticks(Scale(-1, 1, 0, 10), 4)] == ["−1.0", "−0.5", "0.0", "0.5", "1.0"]
    assert written(-0.001, 2) == "0.00"


@given(a=st.floats(0, 1), b=st.floats(0, 1))
def test_a_scale_keeps_order_and_a_reversed_one_turns_it(a, b):
    up, down = Scale(0, 1, 10, 90), Scale(0, 1, 90, 10)
    assert (up.at(a) <= up.at(b)) or a > b
    assert (down.at(a) >= down.at(b)) or a > b


def test_a_value_outside_goes_to_the_nearer_end():
    assert Scale(0, 1, 10, 90).at(7) == 90
