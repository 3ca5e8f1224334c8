"""What the database refuses, whatever the code says."""

from __future__ import annotations

import pytest
from django.db import DatabaseError, IntegrityError, transaction

from casebank.audit.queries import events_of
from casebank.cases.actions import (
    move,
    start_new_version,
)
from casebank.cases.models import CaseVersion, CatalogueRelease
from casebank.domain.workflow import CaseState, legal_pairs
from tests.factories.cases import (
    in_state,
    published,
    small_document,
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


@pytest.mark.parametrize("state", list(CaseState))
def test_the_database_refuses_every_illegal_move(people, state):
    version = in_state(state, people.author, people.reviewer)
    rows = CaseVersion.objects.filter(pk=version.pk)
    for target in CaseState:
        if target != state and (state, target) not in legal_pairs():
            with pytest.raises(DatabaseError, match="Invalid transition"), transaction.atomic():
                rows.update(state=target)
    assert stored(version).state == state


@pytest.mark.parametrize("state", ["approved", "published", "retired"])
@pytest.mark.parametrize("change", [{"document": {}}, {"checksum": "0" * 64}])
def test_the_database_keeps_approved_documents_as_they_are(people, state, change):
    version = in_state(state, people.author, people.reviewer)
    with pytest.raises(DatabaseError, match="Cannot update"), transaction.atomic():
        CaseVersion.objects.filter(pk=version.pk).update(**change)
    with pytest.raises(DatabaseError, match="Cannot delete"), transaction.atomic():
        CaseVersion.objects.filter(pk=version.pk).delete()
    assert stored(version).document == small_document()


def test_the_database_refuses_an_author_as_approver(people):
    version = submitted(people.author)
    release = CatalogueRelease.objects.get()
    own = pytest.raises(IntegrityError, match="nobody_approves_their_own_case")
    with own, transaction.atomic():
        CaseVersion.objects.filter(pk=version.pk).update(
            state="approved", approved_by=people.author,
            approved_at=version.submitted_at, catalogue=release,
        )  # fmt: skip


def test_the_database_refuses_two_published_versions(people):
    old = published(people.author, people.reviewer)
    new = start_new_version(case=old.case, by=people.author)
    for name, by in (("submit", people.author), ("approve", people.reviewer)):
        new = move(version=new, name=name, by=by)
    twice = pytest.raises(IntegrityError, match="one_published_version_a_case")
    with twice, transaction.atomic():
        CaseVersion.objects.filter(pk=new.pk).update(
            state="published", published_at=new.approved_at, published_by=people.author
        )
