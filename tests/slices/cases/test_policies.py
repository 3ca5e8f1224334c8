"""Object rules and list rules say the same of every person and every state."""

from __future__ import annotations

import pytest

from casebank.cases.policies import (
    OPEN_TO_REVIEW,
    may_comment,
    may_edit,
    may_move,
    may_see_version,
    may_start_version,
    may_write,
    moves_open_to,
    visible_versions,
)
from casebank.domain.workflow import MOVES, CaseState
from tests.factories.cases import in_state
from tests.factories.people import Cast, cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def people() -> Cast:
    return cast()


@pytest.fixture
def versions(people):
    return [
        in_state(state, author, people.reviewer)
        for state in CaseState
        for author in (people.author, people.other_author, people.author_and_reviewer)
    ]


def test_the_list_rule_and_the_object_rule_agree(people, versions):
    for user in people.everyone():
        listed = set(visible_versions(user).values_list("pk", flat=True))
        allowed = {version.pk for version in versions if may_see_version(user, version)}
        assert listed == allowed, user


def test_authors_see_their_own_only(people, versions):
    assert {v.author for v in visible_versions(people.author)} == {people.author}


def test_reviewers_see_submitted_and_later_versions_of_others_never_drafts(people, versions):
    seen = visible_versions(people.reviewer)
    assert {v.state for v in seen} == set(OPEN_TO_REVIEW)
    both = visible_versions(people.author_and_reviewer)
    drafts = both.filter(state="draft")
    assert {v.author for v in drafts} == {people.author_and_reviewer}


def test_students_tutors_coordinators_and_strangers_see_no_version(people, versions):
    for user in (people.student, people.tutor, people.coordinator, people.stranger):
        assert not visible_versions(user).exists()


def test_a_person_who_is_no_longer_active_sees_nothing(people, versions):
    people.author.is_active = False
    assert not visible_versions(people.author).exists()
    assert not may_write(people.author)


def test_whoever_may_edit_or_move_or_comment_may_also_see(people, versions):
    for user in people.everyone():
        for version in versions:
            doing = [may_edit(user, version), may_comment(user, version)]
            doing += [may_move(user, version, move.name) for move in MOVES]
            if any(doing):
                assert may_see_version(user, version)


def test_the_buttons_offered_are_exactly_the_moves_allowed(people, versions):
    for user in people.everyone():
        for version in versions:
            offered = {move.name for move in moves_open_to(user, version)}
            allowed = {move.name for move in MOVES if may_move(user, version, move.name)}
            assert offered == allowed - ({"retire"} if "retire-own" in offered else set())


def test_only_drafts_are_edited_and_only_by_their_author(people, versions):
    for user in people.everyone():
        for version in versions:
            expected = version.author == user and version.state == "draft"
            assert bool(may_edit(user, version)) == expected


def test_only_submitted_versions_of_others_are_commented_on(people, versions):
    for user in (people.reviewer, people.author_and_reviewer, people.author):
        for version in versions:
            reviews = user != people.author
            expected = reviews and version.author != user and version.state == "submitted"
            assert bool(may_comment(user, version)) == expected


def test_a_new_version_is_started_by_the_author_of_a_published_case(people, versions):
    for version in versions:
        verdicts = {u.name: bool(may_start_version(u, version.case)) for u in people.everyone()}
        expected = {version.author.name} if version.state == "published" else set()
        assert {name for name, allowed in verdicts.items() if allowed} == expected


def test_every_refusal_gives_its_reason(people, versions):
    for user in people.everyone():
        for version in versions:
            for verdict in (may_edit(user, version), may_comment(user, version)):
                assert verdict or verdict.reason
