"""What machines are told: alive, ready or why not, and numbers without people."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import connection
from django.utils import timezone
from prometheus_client.parser import text_string_to_metric_families

from casebank.core.health.actions import record_heartbeat
from casebank.core.health.signs import last_signs, late_after
from casebank.core.jobs.actions import enqueue
from casebank.core.models import Heartbeat, Job

pytestmark = pytest.mark.django_db


@pytest.fixture
def healthy():
    record_heartbeat(name="beat")
    record_heartbeat(name="worker")


def reasons(client) -> tuple[int, list[str]]:
    answer = client.get("/readyz")
    return answer.status_code, answer.json()["reasons"]


def test_a_process_that_answers_is_alive_without_the_database(client, django_assert_num_queries):
    with django_assert_num_queries(0):
        assert client.get("/livez").json() == {"live": True}


def test_a_healthy_site_is_ready(client, healthy):
    assert reasons(client) == (200, [])
    assert client.get("/readyz")["Cache-Control"].startswith("max-age=0")


def test_a_silent_beat_is_named_and_the_worker_not_blamed(client):
    status, said = reasons(client)
    assert status == 503
    assert said == ["Beat was last seen never."]


def test_a_silent_worker_is_named(client, healthy):
    Heartbeat.objects.filter(name="worker").update(at=timezone.now() - timedelta(minutes=3))
    status, said = reasons(client)
    assert status == 503
    assert said == ["No worker has answered beat; last 180 s ago."]


def test_a_worker_busy_with_long_jobs_is_not_called_silent(client, healthy):
    Heartbeat.objects.filter(name="worker").update(at=timezone.now() - timedelta(minutes=20))
    job = Job.objects.create(kind="check_queue", state="running", heartbeat_at=timezone.now())
    assert reasons(client) == (200, [])
    Job.objects.filter(pk=job.pk).update(heartbeat_at=timezone.now() - timedelta(minutes=3))
    assert reasons(client) == (503, ["No worker has answered beat; last 180 s ago."])


def test_the_pulse_of_a_job_is_no_sign_of_beat_and_none_once_it_is_over(db):
    now = timezone.now()
    Job.objects.create(kind="check_queue", state="done", heartbeat_at=now, finished_at=now)
    assert last_signs() == {}
    Job.objects.create(kind="check_queue", state="running", heartbeat_at=now)
    assert last_signs() == {"worker": now}


@pytest.mark.parametrize(("heartbeat", "late"), [(30.0, 120), (60.0, 240), (1.0, 20)])
def test_late_is_four_heartbeats_but_never_less_than_two_pulses(settings, heartbeat, late):
    settings.CASEBANK_HEARTBEAT_SECONDS = heartbeat
    assert late_after() == timedelta(seconds=late)


def test_a_job_that_waits_too_long_is_a_reason(client, healthy, owner):
    job = enqueue(kind="check_queue", arguments={}, by=owner)
    assert reasons(client) == (200, [])
    Job.objects.filter(pk=job.pk).update(created_at=timezone.now() - timedelta(minutes=11))
    status, said = reasons(client)
    assert status == 503
    assert said == ["A job has waited 660 s."]


def test_a_missing_migration_is_a_reason_that_says_what_to_run(client, healthy):
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM django_migrations WHERE app = 'core'")
    status, said = reasons(client)
    assert status == 503
    assert "run manage.py prepare" in said[0]


def test_metrics_are_well_formed_and_name_no_person(client, healthy, owner):
    enqueue(kind="check_queue", arguments={"secret": "of a student"}, by=owner)
    text = client.get("/metrics").content.decode()
    families = {family.name: family for family in text_string_to_metric_families(text)}
    jobs = families["casebank_jobs"].samples[0]
    assert (jobs.labels, jobs.value) == ({"kind": "check_queue", "state": "queued"}, 1.0)
    parts = {sample.labels["part"] for sample in families["casebank_heartbeat_age_seconds"].samples}
    assert parts == {"beat", "worker"}
    assert not any(word in text for word in (owner.email, owner.name, "student"))


def test_health_answers_reads_only(client):
    assert client.post("/readyz").status_code == 405
