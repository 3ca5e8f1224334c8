"""The authors' pages: who finds them, and the list of cases."""

from __future__ import annotations

import pytest
from django.test import Client

from casebank.cases.models import CaseVersion
from casebank.cases.sections import SECTIONS
from tests.factories.browser import signed_in
from tests.factories.cases import (
    draft,
    in_state,
    published,
    submitted,
)
from tests.slices.cases.author_pages import page

pytestmark = pytest.mark.django_db


STATES = ["draft", "submitted", "returned", "approved", "published", "retired"]


def pages_of(version: CaseVersion) -> list[str]:
    fixed = ["version", "preview", "document", "download", "new-finding"]
    sections = [page("section", version.pk, section.slug) for section in SECTIONS]
    return [page(name, version.pk) for name in fixed] + sections + [page("finding", version.pk, 0)]


# ---- doors


def test_whoever_is_not_signed_in_is_asked_to_sign_in(people):
    answer = Client().get(page("mine"))
    assert answer.status_code == 302
    assert "account" in answer["Location"]


def test_only_authors_find_the_authors_pages(people):
    for user in people.everyone():
        expected = 200 if user.name in {"Ada Author", "Olu Author", "Ari Both"} else 404
        for name in ("mine", "new", "upload"):
            assert signed_in(user).get(page(name)).status_code == expected


def test_a_case_is_found_by_its_author_only(people):
    version = submitted(people.author)
    for user in people.everyone():
        expected = 200 if user == people.author else 404
        client = signed_in(user)
        for url in pages_of(version):
            assert client.get(url).status_code == expected, (user, url)


@pytest.mark.parametrize("state", STATES)
def test_every_page_opens_in_every_state(people, ada, state):
    version = in_state(state, people.author, people.reviewer)
    for url in pages_of(version):
        assert ada.get(url).status_code == 200


def test_every_page_opens_on_an_almost_empty_draft(people, ada):
    ada.post(page("new"), {"title": ""})
    version = CaseVersion.objects.get()
    for url in pages_of(version)[:-1]:
        assert ada.get(url).status_code == 200
    assert ada.get(page("finding", version.pk, 0)).status_code == 302


# ---- my cases


def test_an_empty_list_says_what_to_do(ada):
    answer = ada.get(page("mine")).content.decode()
    assert "You have not written a case yet" in answer
    assert page("new") in answer


def test_the_list_shows_the_newest_version_of_each_case_and_what_is_next(people, ada):
    old = published(people.author, people.reviewer)
    ada.post(page("start-version", old.case_id))
    answer = ada.get(page("mine")).content.decode()
    assert answer.count("list__title") == 1
    assert "students meet version 1" in answer
    assert "Fill its sections" in answer


def test_the_list_costs_the_same_number_of_queries_however_long(
    people, ada, django_assert_num_queries
):
    draft(people.author)
    with django_assert_num_queries(4):  # session, person with roles, count, page
        ada.get(page("mine"))
    for _ in range(10):
        draft(people.author)
    with django_assert_num_queries(4):
        ada.get(page("mine"))


def test_what_is_typed_is_never_markup(people, ada):
    version = draft(people.author, title="<script>x</script>", opening="<b>bold</b>")
    for url in pages_of(version)[:3]:
        html = ada.get(url).content.decode()
        assert "<script>x" not in html
        assert "<b>bold" not in html
