"""Orders of doing against required pairs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from casebank.domain.psychometrics import partial_order_concordance

STEPS = "abcdef"
ORDERS = st.permutations(STEPS).flatmap(
    lambda order: st.integers(0, len(order)).map(lambda n: list(order)[:n])
)
PAIRS = st.lists(
    st.tuples(st.sampled_from(STEPS), st.sampled_from(STEPS)).filter(lambda p: p[0] != p[1])
)


def test_pairs_are_respected_broken_or_not_judged():
    found = partial_order_concordance(
        ["look", "feel", "listen"], [("look", "feel"), ("listen", "feel"), ("wash", "look")]
    )
    assert found.respected == (("look", "feel"),)
    assert found.broken == (("listen", "feel"),)
    assert found.unjudged == (("wash", "look"),)
    assert (found.share, found.tau, found.judged) == (0.5, 0.0, 2)


def test_of_a_repeated_step_the_first_time_counts():
    assert partial_order_concordance("bab", [("a", "b")]).share == 0
    assert partial_order_concordance("aba", [("a", "b")]).share == 1


def test_without_a_judged_pair_there_is_no_share():
    for found in (partial_order_concordance("a", [("a", "b")]), partial_order_concordance("", [])):
        assert found.share is None
        assert found.tau is None


@given(ORDERS, PAIRS)
def test_every_pair_is_placed_once_and_reversing_the_order_swaps_the_verdicts(order, pairs):
    found = partial_order_concordance(order, pairs)
    placed = found.respected + found.broken + found.unjudged
    assert sorted(placed) == sorted(set(pairs))
    backwards = partial_order_concordance(order[::-1], pairs)
    assert set(backwards.broken) == set(found.respected)
    assert set(backwards.unjudged) == set(found.unjudged)


@given(st.permutations(STEPS))
def test_with_a_total_order_wanted_tau_is_kendalls(order):
    pairs = [(a, b) for i, a in enumerate(STEPS) for b in STEPS[i + 1 :]]
    theirs = stats.kendalltau([order.index(s) for s in STEPS], range(len(STEPS))).statistic
    assert partial_order_concordance(order, pairs).tau == pytest.approx(theirs)


def test_a_step_before_itself_is_refused():
    with pytest.raises(ValueError, match="before itself"):
        partial_order_concordance("ab", [("a", "a")])
