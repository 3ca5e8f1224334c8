"""What a reviewer said stays as it was said: the database refuses anything else."""

from __future__ import annotations

import pytest
from django.db import DatabaseError, connection, transaction
from django.db.models import ProtectedError

from casebank.cases.models import CaseVersion
from casebank.reviews.actions import add_comment, decide
from casebank.reviews.models import Comment
from tests.factories.cases import small_release, submitted
from tests.factories.people import Cast, cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def people() -> Cast:
    small_release()
    return cast()


@pytest.fixture
def comment(people) -> Comment:
    version = submitted(people.author)
    return add_comment(version=version, text="Why?", path="opening", by=people.reviewer)


@pytest.mark.parametrize("change", [{"text": "Good."}, {"path": ""}, {"created_at": None}])
def test_a_comment_is_never_changed(comment, change):
    with pytest.raises(DatabaseError, match="Cannot update or delete"), transaction.atomic():
        Comment.objects.filter(pk=comment.pk).update(**change)
    assert (Comment.objects.get().text, Comment.objects.get().path) == ("Why?", "opening")


def test_nor_by_saving_it_again(comment):
    comment.text = "Good."
    with pytest.raises(DatabaseError, match="Cannot update or delete"), transaction.atomic():
        comment.save()
    assert Comment.objects.get().text == "Why?"


def test_a_comment_is_never_deleted(comment):
    with pytest.raises(DatabaseError, match="Cannot update or delete"), transaction.atomic():
        comment.delete()
    assert Comment.objects.filter(text="Why?").exists()


def test_plain_sql_is_refused_as_well(comment):
    for sql in ("UPDATE reviews_comment SET text = ''", "DELETE FROM reviews_comment"):
        refused = pytest.raises(DatabaseError, match="Cannot update or delete")
        with refused, transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(sql)
    assert Comment.objects.filter(text="Why?").exists()


def test_a_version_with_comments_does_not_go_and_take_them_along(comment):
    with pytest.raises(ProtectedError):
        CaseVersion.objects.get(pk=comment.version_id).delete()
    assert Comment.objects.filter(pk=comment.pk).exists()


def test_more_can_always_be_said(people, comment):
    version = CaseVersion.objects.get(pk=comment.version_id)
    add_comment(version=version, text="And how?", by=people.reviewer)
    decide(version=version, name="return", by=people.reviewer, comment="Say why.")
    assert [one.text for one in Comment.objects.order_by("pk")] == ["Why?", "And how?", "Say why."]
