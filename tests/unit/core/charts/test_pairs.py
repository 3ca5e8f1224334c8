"""Arrows between places: forwards where the order was kept, back where it was not."""

from hypothesis import given
from hypothesis import strategies as st

from casebank.core.charts.pairs import Pair, pair_chart

places = st.integers(1, 60)
pairs = st.lists(st.builds(Pair, st.just("a"), st.just("b"), places, places), max_size=12)


def drawn(*given_pairs):
    return pair_chart(given_pairs, slug="p", title="Order")


def test_a_kept_pair_points_forwards_and_a_broken_one_back():
    kept, broken = drawn(Pair("look", "touch", 2, 5), Pair("ask", "do", 6, 1)).arrows
    assert kept.start < kept.end
    assert broken.end < broken.start
    assert (kept.pair.is_kept, broken.pair.is_kept) == (True, False)


def test_the_head_stands_behind_the_end_of_its_arrow():
    kept, broken = drawn(Pair("a", "b", 1, 4), Pair("c", "d", 4, 1)).arrows
    assert kept.head.startswith(f"M{kept.end} {kept.y}l-")
    assert broken.head.startswith(f"M{broken.end} {broken.y}l9")


@given(pairs)
def test_everything_lies_inside_the_drawing(given_pairs):
    chart = drawn(*given_pairs)
    for arrow in chart.arrows:
        assert (
            chart.left <= min(arrow.start, arrow.end) <= max(arrow.start, arrow.end) <= chart.right
        )
        assert 0 < arrow.y < chart.axis_y


def test_the_summary_counts_what_was_kept():
    assert drawn(Pair("a", "b", 1, 2), Pair("c", "d", 3, 1)).summary == "1 of 2 kept."
    assert drawn().summary == "Nothing to show yet."
