"""Two clicks, and two requests with one key, at the same time in real transactions."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.db import connection
from rest_framework.test import APIClient

from casebank.cases.models import Case
from casebank.core.models import Job
from casebank.rehearsals.actions import rehearse
from casebank.rehearsals.models import Rehearsal
from tests.factories.cases import draft, small_document, small_release
from tests.factories.people import cast

pytestmark = pytest.mark.django_db(transaction=True)


def twice_at_once(work):
    together = Barrier(2)

    def one(_):
        try:
            together.wait()
            return work()
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        return set(pool.map(one, range(2)))


def test_two_clicks_at_once_start_one_rehearsal():
    small_release()
    author = cast().author
    version = draft(author)
    assert len(twice_at_once(lambda: rehearse(version=version, by=author).pk)) == 1
    assert (Rehearsal.objects.count(), Job.objects.count()) == (1, 1)


def test_two_requests_at_once_with_one_key_begin_one_case():
    small_release()
    author = cast().author

    def begin():
        sent, key = {"document": small_document()}, {"Idempotency-Key": "same"}
        person = APIClient()
        person.force_authenticate(author)
        answer = person.post("/api/v1/cases", sent, format="json", headers=key)
        return answer.json()["id"]

    made = twice_at_once(begin)
    assert len(made) == Case.objects.count() == 1
