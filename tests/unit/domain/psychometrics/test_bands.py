"""Bands of marks: everybody in one of them, and none of them small."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.psychometrics import Band, joined_bands

MARKS = st.lists(st.floats(0, 100), max_size=120)


@given(marks=MARKS, floor=st.integers(5, 20))
def test_the_bands_hold_everybody_side_by_side_and_none_is_small(marks, floor):
    bands = joined_bands(marks, floor)
    if len(marks) < floor:
        assert bands == ()
        return
    assert sum(band.persons for band in bands) == len(marks)
    assert all(band.persons >= floor for band in bands)
    assert [band.low for band in bands] == [0, *(band.high for band in bands[:-1])]
    assert bands[-1].high == 100


@given(marks=MARKS.filter(lambda marks: len(marks) >= 10))
def test_each_band_counts_the_marks_between_its_ends(marks):
    for band in joined_bands(marks):
        top = band.high + (band.high == 100)
        assert band.persons == sum(band.low <= mark < top for mark in marks)


def test_bands_that_are_large_enough_stay_bands_of_ten():
    marks = [45.0] * 10 + [55.0] * 10 + [65.0] * 11
    assert joined_bands(marks) == (Band(0, 50, 10), Band(50, 60, 10), Band(60, 100, 11))


def test_a_mark_that_cannot_be_is_refused():
    with pytest.raises(ValueError, match="outside 0 to 100"):
        joined_bands([100.5] * 20)
    with pytest.raises(ValueError, match="protects nobody"):
        joined_bands([50.0] * 20, floor=2)
