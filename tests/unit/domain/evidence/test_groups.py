"""Evidence groups: the strongest counts once, and expected information agrees with that."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.evidence import (
    combine,
    expected_information,
    expected_information_given,
    expected_information_given_many,
    posterior,
)

SEEDS = st.integers(0, 2**32 - 1)
PRIOR = [0.5, 0.5]


def test_of_correlated_signs_only_the_strongest_counts():
    seen = [("filling", [0.6, 0.3]), ("filling", [0.8, 0.1]), (None, [0.5, 0.4])]
    both = combine(PRIOR, seen)
    assert (both.counted, both.ignored) == ((1, 2), (0,))
    assert both.posterior == pytest.approx(posterior(PRIOR, [[0.8, 0.1], [0.5, 0.4]]))
    assert both.posterior[0] < posterior(PRIOR, [row for _, row in seen])[0]


def test_a_strong_absence_outweighs_a_weak_presence():
    seen = [("g", [0.6, 0.4]), ("g", [0.05, 0.9])]
    assert combine(PRIOR, seen).counted == (1,)


def test_of_equally_strong_signs_the_first_counts():
    seen = [("g", [0.8, 0.2]), ("g", [0.2, 0.8])]
    assert combine(PRIOR, seen).counted == (0,)
    excluding = [("g", [0.0, 0.2]), ("g", [0.2, 0.0])]
    assert combine(PRIOR, excluding).counted == (0,)


def test_strength_ignores_hypotheses_that_the_prior_excluded():
    seen = [("g", [0.5, 0.4, 0.0]), ("g", [0.9, 0.1, 0.5])]
    assert combine([0.5, 0.5, 0.0], seen).counted == (1,)


def test_groups_do_not_touch_each_other_and_nothing_seen_is_the_prior():
    seen = [("a", [0.8, 0.2]), ("b", [0.7, 0.3]), (None, [0.6, 0.5]), (None, [0.6, 0.5])]
    assert combine(PRIOR, seen).ignored == ()
    assert combine(PRIOR, seen).posterior == pytest.approx(posterior(PRIOR, [r for _, r in seen]))
    assert combine(PRIOR, []).posterior == pytest.approx(PRIOR)


@given(SEEDS, st.integers(2, 6), st.integers(0, 8))
def test_every_finding_is_counted_or_ignored_and_each_group_counts_once(seed, h, n):
    rng = np.random.default_rng(seed)
    groups = [("a", "b", None)[i] for i in rng.integers(0, 3, size=n)]
    seen = [(g, rng.random(h) + 0.01) for g in groups]
    both = combine(rng.dirichlet(np.ones(h)), seen)
    assert sorted(both.counted + both.ignored) == list(range(n))
    named = [groups[i] for i in both.counted if groups[i] is not None]
    assert sorted(named) == sorted({g for g in groups if g is not None})
    assert both.posterior.sum() == pytest.approx(1)


@given(SEEDS, st.integers(2, 6), st.integers(1, 5))
def test_without_a_shared_group_it_is_expected_information_of_the_posterior(seed, h, o):
    rng = np.random.default_rng(seed)
    prior, table = rng.dirichlet(np.ones(h)), rng.dirichlet(np.ones(o), size=h).T
    seen = [("a", rng.random(h) + 0.01), (None, rng.random(h) + 0.01)]
    expected = expected_information(combine(prior, seen).posterior, table)
    assert expected_information_given(prior, seen, None, table) == pytest.approx(expected)
    assert expected_information_given(prior, seen, "b", table) == pytest.approx(expected)
    assert expected_information_given(prior, [], "a", table) == pytest.approx(
        expected_information(prior, table)
    )


@given(SEEDS, st.integers(2, 5), st.integers(1, 4))
def test_within_a_group_it_follows_the_definition_outcome_by_outcome(seed, h, o):
    rng = np.random.default_rng(seed)
    prior, table = rng.dirichlet(np.ones(h)), rng.dirichlet(np.ones(o), size=h).T
    seen = [("a", rng.random(h) + 0.01), (None, rng.random(h) + 0.01), ("a", rng.random(h) + 0.01)]
    now = combine(prior, seen).posterior

    def bits(p):
        return float(-(p[p > 0] * np.log2(p[p > 0])).sum())

    after = [combine(prior, [*seen, ("a", row)]).posterior for row in table]
    expected = bits(now) - sum(
        float(row @ now) * bits(p) for row, p in zip(table, after, strict=True)
    )
    got = expected_information_given(prior, seen, "a", table)
    assert got >= 0
    assert got == pytest.approx(max(0.0, expected), abs=1e-9)


def test_a_sign_weaker_than_what_its_group_holds_is_worth_nothing():
    seen = [("g", [0.95, 0.05])]
    assert expected_information_given(PRIOR, seen, "g", [[0.7, 0.3], [0.3, 0.7]]) == 0.0
    assert expected_information_given(PRIOR, seen, None, [[0.7, 0.3], [0.3, 0.7]]) > 0.01


def test_many_findings_at_once_equal_one_at_a_time():
    rng = np.random.default_rng(3)
    tables = rng.dirichlet(np.ones(3), size=(5, 4)).transpose(0, 2, 1)
    seen = [("a", rng.random(4)), ("b", rng.random(4))]
    groups = ["a", None, "b", "c", "a"]
    one_by_one = [
        expected_information_given([0.25] * 4, seen, g, t)
        for g, t in zip(groups, tables, strict=True)
    ]
    many = expected_information_given_many([0.25] * 4, seen, groups, tables)
    assert many == pytest.approx(one_by_one, abs=1e-12)


def plainly(prior, seen, group, table):
    """The definition, one outcome at a time: H(D | seen) - sum of P(o | seen) H(D | seen, o)."""

    def bits(p):
        return float(-(p[p > 0] * np.log2(p[p > 0])).sum())

    now = combine(prior, seen).posterior
    left = sum(
        float(row @ now) * bits(combine(prior, [*seen, (group, row)]).posterior)
        for row in table
        if row @ now > 0
    )
    return max(0.0, bits(now) - left)


@given(SEEDS, st.integers(2, 6), st.integers(1, 5), st.integers(0, 6), st.booleans())
def test_a_whole_catalogue_at_once_follows_the_definition(seed, h, o, n, has_gaps):
    rng = np.random.default_rng(seed)
    names = ("a", "b", "c", None)
    prior, tables = rng.dirichlet(np.ones(h)), rng.dirichlet(np.ones(o), size=(12, h))
    tables = tables.transpose(0, 2, 1).copy()
    if has_gaps:
        # The last hypothesis is out of the question, and half the tables are padded with zeros,
        # with outcomes that only that hypothesis could give.
        prior = np.append(prior[:-1] / prior[:-1].sum(), 0.0)
        tables = np.concatenate([tables, np.zeros((12, 1, h))], axis=1)
        tables[::2, -1, -1], tables[::2, :-1, -1] = 1.0, 0.0
    seen = [(names[i], rng.random(h) + 0.01) for i in rng.integers(0, 4, size=n)]
    groups = [names[i] for i in rng.integers(0, 4, size=12)]
    expected = [plainly(prior, seen, g, t) for g, t in zip(groups, tables, strict=True)]
    got = expected_information_given_many(prior, seen, groups, tables)
    assert got == pytest.approx(expected, abs=1e-9)
    assert (got >= 0).all()


def test_wrong_shapes_are_refused_in_words():
    with pytest.raises(ValueError, match="exactly one row"):
        combine(PRIOR, [("a", [[0.1, 0.2], [0.3, 0.4]])])
    with pytest.raises(ValueError, match="one group"):
        expected_information_given_many(PRIOR, [], ["a"], [[[1, 1]], [[1, 1]]])
