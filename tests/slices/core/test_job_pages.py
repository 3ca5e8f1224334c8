"""The page of a job: progress that renews itself until it is over, for its owner alone."""

from __future__ import annotations

import pytest

from casebank.core.jobs.actions import enqueue
from casebank.core.models import Job

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner) -> Job:
    return enqueue(kind="check_queue", arguments={"steps": 1, "pause": 0}, by=owner)


def test_the_owner_sees_progress_that_renews_itself_until_it_is_over(client, owner, job, run_jobs):
    client.force_login(owner)
    waiting = client.get(f"/jobs/{job.pk}/")
    assert "every 2s" in waiting.content.decode()
    run_jobs()
    fragment = client.get(f"/jobs/{job.pk}/", headers={"HX-Request": "true"}).content.decode()
    assert "every 2s" not in fragment
    assert "<html" not in fragment
    assert "100" in fragment


def test_a_stranger_gets_404_and_cannot_cancel(client, stranger, job):
    client.force_login(stranger)
    assert client.get(f"/jobs/{job.pk}/").status_code == 404
    assert client.post(f"/jobs/{job.pk}/cancel/").status_code == 404
    job.refresh_from_db()
    assert job.state == "queued"


def test_nobody_is_sent_to_sign_in(client, job):
    assert client.get(f"/jobs/{job.pk}/").status_code == 302


def test_cancelling_needs_a_post_and_works_twice(client, owner, job):
    client.force_login(owner)
    assert client.get(f"/jobs/{job.pk}/cancel/").status_code == 405
    for _ in range(2):
        assert client.post(f"/jobs/{job.pk}/cancel/").status_code == 302
    job.refresh_from_db()
    assert job.state == "cancelled"
