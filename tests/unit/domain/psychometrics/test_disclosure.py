"""Small cells stay hidden, and cannot be worked out from what is shown."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.domain.psychometrics import hide_small, possible_range
from casebank.domain.psychometrics.disclosure import with_margins

TABLES = st.integers(1, 4).flatmap(
    lambda r: st.integers(1, 4).flatmap(
        lambda c: st.lists(
            st.lists(st.integers(0, 40), min_size=c, max_size=c), min_size=r, max_size=r
        )
    )
)


def test_one_hidden_cell_is_given_back_by_its_total():
    # Groups 2/7/15 and 6/9/21 with totals shown: the 2 is 8 - 6.
    table = with_margins([[2, 7, 15], [6, 9, 21]])
    hidden = np.zeros(table.shape, dtype=bool)
    hidden[0, 0] = True
    assert possible_range(table, hidden, (0, 0)) == pytest.approx((2, 2))


def test_four_hidden_cells_leave_the_ranges_that_linear_programming_gives():
    table = with_margins([[2, 7, 15], [6, 9, 21]])
    hidden = np.zeros(table.shape, dtype=bool)
    hidden[:2, :2] = True
    ranges = [possible_range(table, hidden, cell) for cell in ((0, 0), (0, 1), (1, 0), (1, 1))]
    expected = [(0, 8), (1, 9), (0, 8), (7, 15)]
    assert [tuple(round(x, 6) for x in r) for r in ranges] == expected


def test_a_small_count_takes_the_fewest_and_smallest_others_with_it():
    found = hide_small([[30, 40, 50], [3, 60, 50]])
    assert found.shown() == (
        (None, 40, None, 120),
        (None, 60, None, 113),
        (33, 100, 100, 233),
    )
    assert found.primary.sum() == 1
    assert found.complementary.sum() == 3


def test_a_count_whose_complement_is_small_is_hidden():
    found = hide_small([[97, 3], [60, 50]])
    assert found.primary[0].tolist() == [True, True, False]


def test_nothing_is_hidden_where_nothing_is_small_and_zeros_show():
    assert not hide_small([[30, 40], [50, 60]]).hidden.any()
    assert not hide_small([[0, 40], [50, 60]]).hidden.any()


def test_a_single_row_is_protected_too():
    found = hide_small([3, 60, 50])
    assert found.shown()[0] == (None, 60, None, 113)


def test_two_small_counts_that_a_total_leaves_too_little_room_take_a_third_with_them():
    # 15 - 11 leaves 0 to 4 for each of the two: subtraction fails, but the range tells.
    found = hide_small([[11], [2], [2]])
    assert found.complementary[0, 0]
    low, high = possible_range(found.counts, found.hidden, (1, 0))
    assert high - low >= 5


def test_a_tiny_group_is_hidden_whole():
    assert hide_small([[1, 2], [0, 1]]).hidden[:, :2].sum() >= 4


@settings(max_examples=60)
@given(TABLES)
def test_no_small_cell_can_be_pinned_down(table):
    found = hide_small(table)
    counts = found.counts
    small = (counts > 0) & (counts < 10)
    assert not (small & ~found.hidden).any()
    for row, col in np.argwhere(found.hidden).tolist():
        low, high = possible_range(counts, found.hidden, (row, col))
        assert low - 1e-6 <= counts[row, col] <= high + 1e-6
        if found.primary[row, col]:
            assert high - low >= 5 - 1e-6


@pytest.mark.parametrize(
    ("counts", "floor", "words"),
    [
        ([[1, 2]], 4, "at least 5"),
        ([[-1]], 10, "negative"),
        ([[0.5]], 10, "whole"),
        ([], 10, "whole"),
    ],
)
def test_counts_or_floors_without_sense_are_refused(counts, floor, words):
    with pytest.raises(ValueError, match=words):
        hide_small(counts, floor)
