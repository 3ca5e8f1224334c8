"""What was typed survives a session or a page that has ended."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from casebank.encounters.models import Entry
from tests.factories.encounters import begun
from tests.factories.people import cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def encounter():
    return begun(cast())


def test_a_request_after_the_session_ended_shows_the_words_and_does_nothing(client, encounter):
    sheet = reverse("encounters:sheet", args=[encounter.pk])
    answer = client.post(
        reverse("encounters:ask", args=[encounter.pk]),
        {"text": "feel the apex beat", "after": "0"},
        headers={"Referer": f"http://testserver{sheet}"},
    )
    page = answer.content.decode()
    assert answer.status_code == 401
    assert "feel the apex beat" in page
    assert f"next=%2Fpatients%2Fat%2F{encounter.pk}%2F%3Ftext%3Dfeel" in page
    assert Entry.objects.count() == 0


def test_a_fragment_gets_a_fragment(client, encounter):
    answer = client.post(
        reverse("encounters:ask", args=[encounter.pk]),
        {"text": "feel the apex beat"},
        headers={"HX-Request": "true"},
    )
    page = answer.content.decode()
    assert "feel the apex beat" in page
    assert "<html" not in page


def test_a_foreign_page_is_not_where_one_is_sent_back(client, encounter):
    answer = client.post(
        reverse("encounters:ask", args=[encounter.pk]),
        {"text": "x"},
        headers={"Referer": "https://elsewhere.example/trap"},
    )
    assert "elsewhere" not in answer.content.decode()


def test_secrets_are_not_shown_again(client):
    answer = client.post("/people/new", {"name": "Nell", "password": "a long enough phrase"})
    page = answer.content.decode()
    assert "Nell" in page
    assert "a long enough phrase" not in page


def test_a_page_that_was_open_too_long_keeps_what_was_typed(encounter):
    strict = Client(enforce_csrf_checks=True)
    answer = strict.post(
        reverse("encounters:ask", args=[encounter.pk]), {"text": "feel the apex beat"}
    )
    assert answer.status_code == 403
    assert "feel the apex beat" in answer.content.decode()
    assert Entry.objects.count() == 0


def test_reading_a_page_without_a_session_leads_to_the_sign_in(client, encounter):
    answer = client.get(reverse("encounters:sheet", args=[encounter.pk]))
    assert answer.status_code == 302
