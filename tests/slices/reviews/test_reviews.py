"""Reviewing: the queue, comments at a place, decisions, and who may do what."""

from __future__ import annotations

import pytest
from django.urls import reverse

from casebank.audit.queries import events_of
from casebank.cases.errors import Refused
from casebank.cases.models import CaseVersion
from casebank.cases.reading import read_case
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.reviews.actions import add_comment, decide
from casebank.reviews.models import Comment
from casebank.reviews.remarks import remarks_by_place
from tests.factories.browser import signed_in
from tests.factories.cases import (
    SMALL_TEXTS,
    in_state,
    published,
    small_document,
    small_release,
    submitted,
)
from tests.factories.people import Cast, cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def people() -> Cast:
    small_release()
    return cast()


def page(name: str, version: CaseVersion | None = None) -> str:
    return reverse(f"reviews:{name}", args=[version.pk] if version else [])


def text_of(answer) -> str:
    return answer.content.decode()


# ---- actions


def test_a_reviewer_comments_on_a_place(people):
    version = submitted(people.author)
    comment = add_comment(version=version, text=" Why? ", path="opening", by=people.reviewer)
    assert (comment.text, comment.path) == ("Why?", "opening")
    assert events_of(version).last().name == "comment_added"


@pytest.mark.parametrize("text", ["", "  \n", "\0", "x" * 4001])
def test_a_comment_needs_words_and_has_an_end(people, text):
    with pytest.raises(Refused):
        add_comment(version=submitted(people.author), text=text, by=people.reviewer)


def test_nobody_but_a_reviewer_of_others_comments(people):
    version = submitted(people.author)
    for user in people.everyone():
        if user not in (people.reviewer, people.author_and_reviewer):
            with pytest.raises(Refused):
                add_comment(version=version, text="Hm.", by=user)


def test_a_decision_keeps_its_comment_beside_the_document(people):
    version = submitted(people.author)
    decide(version=version, name="return", by=people.reviewer, comment="More detail.")
    assert Comment.objects.get().text == "More detail."


def test_a_refused_decision_keeps_no_comment(people):
    version = in_state("approved", people.author, people.reviewer)
    with pytest.raises(Refused):
        decide(version=version, name="return", by=people.reviewer, comment="Too late.")
    assert not Comment.objects.exists()


def test_comments_stand_where_they_point(people):
    version = submitted(people.author)
    read = read_case(small_document(), parse_catalogue(SMALL_TEXTS))
    where = {
        "": "whole", "opening": "opening", "patient.age": "opening", "findings": "findings",
        "findings.displaced-apex": "finding-1", "findings[0].answers[1]": "finding-0",
        "findings.gone": "findings", "scheme.weights.order": "weights", "nonsense": "whole",
    }  # fmt: skip
    for path in where:
        Comment.objects.create(version=version, author=people.reviewer, path=path, text=path or "-")
    placed = remarks_by_place(Comment.objects.all(), read)
    assert {c.path: anchor for anchor, said in placed.items() for c in said} == where


# ---- pages


def test_only_reviewers_find_the_queue(people):
    for user in people.everyone():
        expected = 200 if user in (people.reviewer, people.author_and_reviewer) else 404
        assert signed_in(user).get(page("queue")).status_code == expected


def test_the_queue_holds_the_cases_of_others_and_never_ones_own(people):
    submitted(people.author, title="Of Ada")
    submitted(people.author_and_reviewer, title="Of Ari")
    assert "Of Ari" in text_of(signed_in(people.reviewer).get(page("queue")))
    seen = text_of(signed_in(people.author_and_reviewer).get(page("queue")))
    assert "Of Ada" in seen
    assert "Of Ari" not in seen


def test_an_empty_queue_says_when_something_will_come(people):
    assert "Nothing waits for you" in text_of(signed_in(people.reviewer).get(page("queue")))


def test_the_queue_costs_the_same_number_of_queries_however_long(people, django_assert_num_queries):
    rea = signed_in(people.reviewer)
    for _ in range(2):
        submitted(people.author)
        published(people.author, people.reviewer)
    with django_assert_num_queries(5):  # session, person with roles, waiting, count, before
        rea.get(page("queue"))
    for _ in range(4):
        submitted(people.author)
        published(people.author, people.reviewer)
    with django_assert_num_queries(5):  # session, person with roles, waiting, count, before
        rea.get(page("queue"))


@pytest.mark.parametrize("state", ["draft", "submitted", "returned", "approved", "published"])
def test_the_reading_page_opens_to_reviewers_of_others_once_submitted(people, state):
    version = in_state(state, people.author, people.reviewer)
    for user in people.everyone():
        reviews = user in (people.reviewer, people.author_and_reviewer)
        expected = 200 if reviews and state != "draft" else 404
        assert signed_in(user).get(page("reading", version)).status_code == expected


def test_the_reading_page_says_everything_in_words(people):
    seen = text_of(signed_in(people.reviewer).get(page("reading", submitted(people.author))))
    for words in (
        "Vera Quill, 67, female", "Mitral regurgitation", "62.5 %", "True in this patient",
        "Site: the apex or the axilla; posture: rolled onto the left side",
        "firm pressure or more", "LR+ 5.4, LR− 0.3 for Mitral regurgitation",
        "To “Later” after 12.5 minutes", "Clean your hands, then Listen to the heart",
        "She tires quickly.", "Follow the sound.",
    ):  # fmt: skip
        assert words in seen


def test_a_comment_is_left_beside_a_finding_and_seen_there(people):
    version, rea = submitted(people.author), signed_in(people.reviewer)
    sent = {"path": "findings.murmur", "anchor": "finding-0", "text": "How loud?"}
    answer = rea.post(page("comment", version), sent)
    assert answer["Location"].endswith("#finding-0")
    assert "How loud?" in text_of(rea.get(page("reading", version)))


def test_an_empty_comment_is_refused_in_words(people):
    answer = signed_in(people.reviewer).post(
        page("comment", submitted(people.author)), {"path": "opening", "text": " "}
    )
    assert answer.status_code == 422
    assert "Write the comment first" in text_of(answer)


def test_returning_without_a_comment_is_refused_in_words(people):
    version = submitted(people.author)
    sent = {"name": "return", "lock": version.lock}
    answer = signed_in(people.reviewer).post(page("move", version), sent)
    assert answer.status_code == 409
    assert "a comment is needed" in text_of(answer)


def test_approving_what_was_changed_meanwhile_is_refused_and_the_comment_kept(people):
    version = submitted(people.author)
    sent = {"name": "approve", "lock": version.lock - 1, "comment": "Well made."}
    answer = signed_in(people.reviewer).post(page("move", version), sent)
    assert answer.status_code == 409
    assert "Well made." in text_of(answer)
    assert CaseVersion.objects.get().state == "submitted"


def test_a_reviewer_approves_and_goes_back_to_the_queue(people):
    version = submitted(people.author)
    sent = {"name": "approve", "lock": version.lock}
    answer = signed_in(people.reviewer).post(page("move", version), sent, follow=True)
    assert "is now approved" in text_of(answer)
    assert CaseVersion.objects.get().approved_by == people.reviewer


def test_others_cannot_comment_or_decide_by_the_address(people):
    version = submitted(people.author)
    for user in (people.author, people.tutor, people.student, people.stranger):
        client = signed_in(user)
        assert client.post(page("comment", version), {"text": "x"}).status_code == 404
        assert client.post(page("move", version), {"name": "approve"}).status_code == 404
    assert CaseVersion.objects.get().state == "submitted"
