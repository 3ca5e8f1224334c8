"""The API of cases: who sees what, ETags, and problems with their places."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from casebank.cases.actions import save_draft
from casebank.cases.models import CaseVersion
from tests.factories.cases import draft, in_state, small_document, submitted

pytestmark = pytest.mark.django_db
CASES = "/api/v1/cases"


def as_person(user) -> APIClient:
    client = APIClient()
    client.force_authenticate(user)
    return client


def url_of(version: CaseVersion, more: str = "") -> str:
    return f"{CASES}/{version.case_id}/versions/{version.number}{more}"


def test_without_a_token_nothing_is_told(people):
    answer = APIClient().get(CASES)
    assert answer.status_code == 401
    assert answer["Content-Type"] == "application/problem+json"


def test_an_author_begins_a_case_and_reads_it_back(people):
    ada = as_person(people.author)
    answer = ada.post(CASES, {"document": small_document()}, format="json")
    assert answer.status_code == 201
    assert answer["ETag"] == '"1"'
    read = ada.get(answer["Location"])
    assert read.json()["document"] == small_document()
    assert read.json()["problems"] == []


def test_only_authors_begin_cases(people):
    answer = as_person(people.student).post(CASES, {"document": {}}, format="json")
    assert answer.status_code == 403


def test_a_version_is_found_by_those_who_may_see_it(people):
    version = submitted(people.author)
    seen = {
        user.name
        for user in people.everyone()
        if as_person(user).get(url_of(version)).status_code == 200
    }
    assert seen == {"Ada Author", "Rea Reviewer", "Ari Both"}
    answer = as_person(people.student).get(url_of(version))
    missing = as_person(people.student).get(url_of(version).replace("versions/1", "versions/9"))
    assert answer.json() == missing.json()


def test_the_list_holds_what_the_person_may_see_without_documents(people):
    for state in ("draft", "submitted", "published"):
        in_state(state, people.author, people.reviewer)
    found = as_person(people.reviewer).get(CASES).json()["results"]
    assert {item["state"] for item in found} == {"submitted", "published"}
    assert "document" not in found[0]
    assert as_person(people.student).get(CASES).json()["results"] == []


def test_the_list_costs_the_same_number_of_queries_however_long(people, django_assert_num_queries):
    draft(people.author)
    ada = as_person(people.author)
    ada.get(CASES)
    with django_assert_num_queries(1):
        ada.get(CASES)
    for _ in range(10):
        draft(people.author)
    with django_assert_num_queries(1):
        assert len(ada.get(CASES).json()["results"]) == 11


def test_a_write_needs_the_tag_of_what_was_read(people):
    version, ada = draft(people.author), as_person(people.author)
    body = {"document": small_document(opening="New.")}
    assert ada.put(url_of(version), body, format="json").status_code == 428
    stale = ada.put(url_of(version), body, format="json", HTTP_IF_MATCH='"7"')
    assert stale.status_code == 412
    assert stale["Content-Type"] == "application/problem+json"
    saved = ada.put(url_of(version), body, format="json", HTTP_IF_MATCH='"1"')
    assert (saved.status_code, saved["ETag"]) == (200, '"2"')
    again = ada.put(url_of(version), body, format="json", HTTP_IF_MATCH='"1"')
    assert again.status_code == 412


def test_an_unchanged_version_is_not_sent_twice(people):
    version, ada = draft(people.author), as_person(people.author)
    assert ada.get(url_of(version), HTTP_IF_NONE_MATCH='"1"').status_code == 304
    save_draft(version=version, document={}, lock=1, by=people.author)
    assert ada.get(url_of(version), HTTP_IF_NONE_MATCH='"1"').status_code == 200


def test_a_reviewer_cannot_write_what_they_may_read(people):
    version = submitted(people.author)
    answer = as_person(people.reviewer).put(
        url_of(version), {"document": {}}, format="json", HTTP_IF_MATCH=f'"{version.lock}"'
    )
    assert answer.status_code == 409
    assert "Only its author" in answer.json()["detail"]


def test_a_document_no_draft_can_hold_is_refused_with_its_places(people):
    answer = as_person(people.author).post(
        CASES, {"document": {"extra": 1, "stages": "x", "title": "a\0"}}, format="json"
    )
    assert answer.status_code == 422
    assert {item["path"] for item in answer.json()["errors"]} == {"extra", "stages", "title"}
    assert not CaseVersion.objects.exists()


@pytest.mark.parametrize("body", [{}, {"document": 3}, {"document": []}, []])
def test_a_body_without_a_document_is_refused(people, body):
    answer = as_person(people.author).post(CASES, body, format="json")
    assert answer.status_code == 422


def test_a_case_goes_its_whole_way_over_the_api(people):
    version = draft(people.author)
    ada, rea = as_person(people.author), as_person(people.reviewer)
    moves = url_of(version, "/moves")
    for client, name, state in (
        (ada, "submit", "submitted"),
        (rea, "return", "returned"),
        (ada, "revise", "draft"),
        (ada, "submit", "submitted"),
        (rea, "approve", "approved"),
        (ada, "publish", "published"),
        (ada, "retire", "retired"),
    ):
        answer = client.post(moves, {"name": name, "comment": "Look again."}, format="json")
        assert (answer.status_code, answer.json()["state"]) == (200, state)
    comments = ada.get(url_of(version, "/comments")).json()
    assert [comment["author"] for comment in comments] == ["Rea Reviewer"] * 2


def test_a_move_that_is_not_open_is_refused_with_the_reason(people):
    version = submitted(people.author)
    moves = url_of(version, "/moves")
    answer = as_person(people.author).post(moves, {"name": "approve"}, format="json")
    assert answer.status_code == 409
    assert "Nobody reviews their own case" in answer.json()["detail"]
    assert as_person(people.stranger).post(moves, {"name": "approve"}).status_code == 404
    unknown = as_person(people.reviewer).post(moves, {"name": "burn"}, format="json")
    assert unknown.status_code == 422
    stale = as_person(people.reviewer).post(
        moves, {"name": "approve"}, format="json", HTTP_IF_MATCH='"1"'
    )
    assert stale.status_code == 412


def test_an_unfit_case_is_refused_with_every_place(people):
    version = draft(people.author, truth=["gout"])
    answer = as_person(people.author).post(
        url_of(version, "/moves"), {"name": "submit"}, format="json"
    )
    assert answer.status_code == 422
    assert [item["path"] for item in answer.json()["errors"]] == ["truth[0]"]


def test_the_same_key_begins_one_case_for_each_person(people):
    ada, olu = as_person(people.author), as_person(people.other_author)
    sent, key = {"document": small_document()}, {"Idempotency-Key": "k-1"}
    first = ada.post(CASES, sent, format="json", headers=key)
    again = ada.post(CASES, sent, format="json", headers=key)
    assert (again.status_code, again.json()) == (201, first.json())
    assert again["Location"] == first["Location"]
    assert olu.post(CASES, sent, format="json", headers=key).json()["id"] != first.json()["id"]
    assert CaseVersion.objects.count() == 2


def test_without_a_key_each_request_begins_a_case(people):
    ada = as_person(people.author)
    for _ in range(2):
        assert ada.post(CASES, {"document": small_document()}, format="json").status_code == 201
    assert CaseVersion.objects.count() == 2


def test_a_key_that_is_too_long_is_refused(people):
    answer = as_person(people.author).post(
        CASES, {"document": {}}, format="json", headers={"Idempotency-Key": "k" * 201}
    )
    assert answer.status_code == 400
    assert not CaseVersion.objects.exists()
