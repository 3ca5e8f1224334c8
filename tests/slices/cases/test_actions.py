"""Drafts, versions and moves: what is stored, what is refused, and by whom."""

from __future__ import annotations

import pytest
from django.core.management import call_command
from django.db import transaction

from casebank.audit.queries import events_of
from casebank.cases.actions import (
    create_case,
    load_catalogue,
    move,
    save_draft,
    start_new_version,
)
from casebank.cases.errors import NoCatalogue, NotFit, Refused, StaleEdit, UnreadableDocument
from casebank.cases.library import compiled_version
from casebank.cases.models import CaseVersion, CatalogueRelease
from casebank.domain.casefile.canonical import checksum
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.workflow import MOVES, CaseState, legal_pairs
from tests.factories.cases import (
    SMALL_TEXTS,
    approved,
    draft,
    in_state,
    published,
    small_document,
    small_release,
    submitted,
)
from tests.factories.people import Cast, cast
from tests.slices.cases.author_pages import stored

pytestmark = pytest.mark.django_db


@pytest.fixture
def people() -> Cast:
    return cast()


def events(version: CaseVersion) -> list[str]:
    return [event.name for event in events_of(version)]


# ---- the catalogue


def test_loading_the_same_catalogue_twice_stores_one_release():
    first, was_new = load_catalogue(texts=SMALL_TEXTS)
    again, is_new = load_catalogue(texts=SMALL_TEXTS)
    assert (was_new, is_new) == (True, False)
    assert first.pk == again.pk
    assert CatalogueRelease.objects.count() == 1
    assert first.steps == 3


def test_a_changed_catalogue_is_a_new_release():
    small_release()
    changed = {"small.toml": SMALL_TEXTS["small.toml"].replace("minutes = 2", "minutes = 3")}
    assert load_catalogue(texts=changed)[1]
    assert CatalogueRelease.objects.count() == 2


def test_the_command_loads_the_shipped_catalogue(capsys):
    call_command("load_catalogue")
    assert CatalogueRelease.objects.get().steps > 100
    assert "stored" in capsys.readouterr().out


# ---- drafts


def test_an_author_begins_a_case_with_an_incomplete_document(people):
    version = create_case(document={"title": "Half"}, by=people.author)
    assert (version.state, version.number, version.title) == ("draft", 1, "Half")
    assert events(version) == ["case_created"]


def test_a_case_without_title_has_a_name_in_lists(people):
    assert create_case(document={}, by=people.author).title == "Untitled case"


def test_only_authors_begin_cases(people):
    for user in (people.reviewer, people.tutor, people.student, people.coordinator):
        with pytest.raises(Refused):
            create_case(document={}, by=user)


def test_a_document_with_unknown_fields_is_not_kept(people):
    with pytest.raises(UnreadableDocument) as caught:
        create_case(document={"colour": "red", "stages": {"a": 1}}, by=people.author)
    assert {problem.path for problem in caught.value.problems} == {"colour", "stages"}


def test_saving_a_draft_counts_the_edit_and_says_what_changed(people):
    version = draft(people.author)
    saved = save_draft(
        version=version, document=small_document(opening="New."), lock=1, by=people.author
    )
    assert (saved.lock, stored(version).document["opening"]) == (2, "New.")
    assert events_of(version).last().data["parts"] == ["opening"]


def test_saving_what_stands_already_changes_nothing(people):
    version = draft(people.author)
    assert (
        save_draft(version=version, document=small_document(), lock=1, by=people.author).lock == 1
    )


def test_a_stale_edit_changes_nothing_and_carries_both(people):
    version = draft(people.author)
    save_draft(version=version, document=small_document(opening="Mine."), lock=1, by=people.author)
    with pytest.raises(StaleEdit) as caught:
        save_draft(
            version=version, document=small_document(opening="Yours."), lock=1, by=people.author
        )
    assert caught.value.current.document["opening"] == "Mine."
    assert caught.value.yours["opening"] == "Yours."
    assert stored(version).document["opening"] == "Mine."


def test_nobody_else_saves_a_draft(people):
    version = draft(people.author)
    for user in people.everyone():
        if user != people.author:
            with pytest.raises(Refused):
                save_draft(version=version, document={}, lock=1, by=user)


def test_a_submitted_version_cannot_be_edited(people):
    version = submitted(people.author)
    with pytest.raises(Refused, match="submitted"):
        save_draft(version=version, document={}, lock=version.lock, by=people.author)


# ---- moves


def test_a_case_goes_its_whole_way(people):
    version = published(people.author, people.reviewer)
    version = move(version=version, name="retire", by=people.author)
    assert version.state == "retired"
    assert events(version) == [
        "case_created", "case_submitted", "case_approved", "case_published", "case_retired",
    ]  # fmt: skip
    for stamp in ("submitted_at", "approved_at", "published_at", "retired_at"):
        assert getattr(version, stamp) is not None


def test_approval_pins_the_catalogue_and_the_checksum(people):
    version = stored(approved(people.author, people.reviewer))
    assert version.catalogue == CatalogueRelease.objects.get()
    assert version.checksum == checksum(CaseDocument.model_validate(small_document()))
    assert version.approved_by == people.reviewer
    assert compiled_version(version.pk).document.title == version.title


def test_a_document_with_errors_cannot_be_submitted(people):
    small_release()
    version = create_case(document={"title": "Half"}, by=people.author)
    with pytest.raises(NotFit) as caught:
        move(version=version, name="submit", by=people.author)
    assert "patient" in {problem.path for problem in caught.value.problems}
    assert stored(version).state == "draft"


def test_a_document_that_a_newer_catalogue_does_not_fit_cannot_be_approved(people):
    version = submitted(people.author)
    newer = SMALL_TEXTS["small.toml"].replace('"left-lateral"]', "]")
    load_catalogue(texts={"small.toml": newer})
    with pytest.raises(NotFit):
        move(version=version, name="approve", by=people.reviewer)
    assert stored(version).state == "submitted"


def test_without_a_catalogue_nothing_is_submitted(people):
    with pytest.raises(NoCatalogue):
        move(version=draft(people.author), name="submit", by=people.author)


def test_nobody_approves_their_own_case(people):
    version = submitted(people.author_and_reviewer)
    with pytest.raises(Refused, match="Nobody reviews their own"):
        move(version=version, name="approve", by=people.author_and_reviewer)


def test_returning_needs_a_comment(people):
    version = submitted(people.author)
    with pytest.raises(Refused, match="comment"):
        move(version=version, name="return", by=people.reviewer, comment="  ")
    returned = move(version=version, name="return", by=people.reviewer, comment="Say more.")
    assert returned.state == "returned"
    assert events_of(version).last().data["comment"] == "Say more."


def test_a_decision_on_what_has_changed_since_is_stale(people):
    version = submitted(people.author)
    read = version.lock
    version = move(version=version, name="withdraw", by=people.author)
    move(version=version, name="submit", by=people.author)
    with pytest.raises(StaleEdit):
        move(version=version, name="approve", by=people.reviewer, lock=read)


@pytest.mark.parametrize("state", list(CaseState))
def test_every_move_is_made_by_those_the_table_names_and_by_nobody_else(people, state):
    version = in_state(state, people.author, people.reviewer)
    for name in {one.name for one in MOVES}:
        for user in people.everyone():
            actor = "author" if user == people.author else "reviewer"
            capable = user in (people.author, people.reviewer, people.author_and_reviewer)
            allowed = capable and any(
                one.source == state and one.actor == actor
                and one.name in (name, f"{name}-own" if actor == "author" else name)
                for one in MOVES
            )  # fmt: skip
            with transaction.atomic():
                if allowed:
                    moved = move(version=version, name=name, by=user, comment="Because.")
                    assert (state, moved.state) in legal_pairs()
                    transaction.set_rollback(True)
                else:
                    with pytest.raises(Refused):
                        move(version=version, name=name, by=user, comment="Because.")


# ---- versions


def test_a_new_version_starts_from_the_published_one(people):
    old = published(people.author, people.reviewer)
    new = start_new_version(case=old.case, by=people.author)
    assert (new.number, new.state, new.document) == (2, "draft", old.document)
    assert new.lock == 1


def test_a_second_open_version_is_refused(people):
    old = published(people.author, people.reviewer)
    start_new_version(case=old.case, by=people.author)
    with pytest.raises(Refused, match="open already"):
        start_new_version(case=old.case, by=people.author)


def test_a_new_version_needs_a_published_one_and_its_author(people):
    version = draft(people.author)
    with pytest.raises(Refused, match="none is published"):
        start_new_version(case=version.case, by=people.author)
    old = published(people.author, people.reviewer)
    with pytest.raises(Refused, match="no such case"):
        start_new_version(case=old.case, by=people.other_author)


def test_publishing_a_new_version_retires_the_old_one(people):
    old = published(people.author, people.reviewer)
    new = start_new_version(case=old.case, by=people.author)
    for name, by in (("submit", people.author), ("approve", people.reviewer)):
        new = move(version=new, name=name, by=by)
    new = move(version=new, name="publish", by=people.author)
    assert (new.state, stored(old).state) == ("published", "retired")
    assert events_of(old).last().data["replaced_by"] == 2
