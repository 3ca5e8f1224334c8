"""The way of a case version, as tables."""

from __future__ import annotations

from casebank.domain.workflow import EDITABLE, FIXED, MOVES, Actor, CaseState, find_move, moves_from


def test_every_state_but_the_last_has_a_way_on():
    for state in CaseState:
        onward = [m for actor in Actor for m in moves_from(state, actor)]
        assert onward or state is CaseState.RETIRED


def test_only_a_reviewer_approves_and_only_an_author_submits_and_publishes():
    by_name = {move.name: move.actor for move in MOVES}
    assert by_name["approve"] is Actor.REVIEWER
    assert by_name["submit"] is by_name["publish"] is Actor.AUTHOR


def test_nothing_goes_back_from_approved_to_editable():
    reachable, frontier = set(), {CaseState.APPROVED}
    while frontier:
        reachable |= frontier
        frontier = {m.target for m in MOVES if m.source in frontier} - reachable
    assert reachable == FIXED
    assert not reachable & EDITABLE


def test_a_move_is_found_only_where_it_is_legal():
    assert find_move("approve", CaseState.SUBMITTED, Actor.REVIEWER)
    assert find_move("approve", CaseState.DRAFT, Actor.REVIEWER) is None
    assert find_move("approve", CaseState.SUBMITTED, Actor.AUTHOR) is None
