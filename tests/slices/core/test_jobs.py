"""Jobs from asking to result: progress, cancelling, failing, losing the worker."""

from __future__ import annotations

from contextlib import suppress
from datetime import timedelta
from unittest import mock
from uuid import uuid4

import pytest
from billiard.exceptions import SoftTimeLimitExceeded
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.http import Http404
from django.utils import timezone

from casebank.core.jobs import registry, running, sweeping
from casebank.core.jobs.actions import cancel_job, enqueue, send
from casebank.core.jobs.errors import (
    JobCancelledError,
    JobFailedError,
    JobLostError,
    UnknownKindError,
)
from casebank.core.jobs.progress import Progress
from casebank.core.jobs.queries import job_for, jobs_of
from casebank.core.models import Job

pytestmark = pytest.mark.django_db
SUM = {"steps": 4, "pause": 0}


@pytest.fixture
def kinds(monkeypatch):
    """A table of kinds of its own, so that a test may register what it likes."""
    registry.function_for("check_queue")
    monkeypatch.setattr(registry, "_functions", dict(registry._functions))
    return registry


def a_running_job(owner, **changes) -> Job:
    job = enqueue(kind="check_queue", arguments=SUM, by=owner)
    claimed = running.claim(job.pk)
    assert claimed is not None
    if changes:
        Job.objects.filter(pk=job.pk).update(**changes)
    return claimed


def test_a_job_is_asked_run_and_done(owner, run_jobs):
    job = enqueue(kind="check_queue", arguments=SUM, by=owner)
    assert (job.state, job.percent) == ("queued", 0)
    assert run_jobs() == 1
    job.refresh_from_db()
    assert (job.state, job.percent, job.result, job.attempts) == ("done", 100, {"sum": 10}, 1)
    assert job.message == "Step 4 of 4"
    assert job.created_at <= job.started_at <= job.finished_at


def test_the_message_leaves_only_when_the_transaction_holds(
    owner, django_capture_on_commit_callbacks
):
    with (
        mock.patch("casebank.core.tasks.run_job.delay") as delay,
        django_capture_on_commit_callbacks(execute=True),
    ):
        with suppress(RuntimeError), transaction.atomic():
            enqueue(kind="check_queue", arguments=SUM, by=owner)
            raise RuntimeError
        job = enqueue(kind="check_queue", arguments=SUM, by=owner)
        delay.assert_not_called()
    delay.assert_called_once_with(str(job.pk))


def test_a_broker_that_is_away_loses_neither_the_request_nor_the_job(
    owner, django_capture_on_commit_callbacks
):
    with (
        mock.patch("casebank.core.tasks.run_job.delay", side_effect=ConnectionError),
        django_capture_on_commit_callbacks(execute=True),
    ):
        job = enqueue(kind="check_queue", arguments=SUM, by=owner)
    with mock.patch("casebank.core.tasks.run_job.delay") as delay:
        assert sweeping.sweep(timezone.now() + timedelta(seconds=61)).resent == 1
    delay.assert_called_once_with(str(job.pk))


def test_a_kind_nobody_registered_is_refused_at_once(owner):
    with pytest.raises(UnknownKindError, match=r"known: .*check_queue"):
        enqueue(kind="no-such-kind", by=owner)
    assert not Job.objects.exists()


def test_a_message_delivered_twice_runs_once(owner, run_jobs):
    job = enqueue(kind="check_queue", arguments=SUM, by=owner)
    assert running.run(job.pk) is True
    assert running.run(job.pk) is False
    assert running.run(uuid4()) is False
    job.refresh_from_db()
    assert job.attempts == 1


def test_progress_is_kept_within_0_and_100(owner):
    job = a_running_job(owner)
    progress = Progress(job.pk, job.attempts)
    progress.percent(41.9, "Reading")
    job.refresh_from_db()
    assert (job.percent, job.message) == (41, "Reading")
    for wrong in (-1, 100.5):
        with pytest.raises(ValueError, match="from 0 to 100"):
            progress.percent(wrong)


def test_a_waiting_job_is_cancelled_at_once_and_never_runs(owner, run_jobs):
    job = cancel_job(job=enqueue(kind="check_queue", arguments=SUM, by=owner), by=owner)
    assert job.state == "cancelled"
    assert run_jobs() == 0


def test_a_running_job_stops_at_its_next_progress(owner, kinds):
    def cancelled_midway(context):
        context.progress.percent(50)
        cancel_job(job=Job.objects.get(pk=context.job_id), by=owner)
        assert context.progress.is_cancel_requested()
        context.progress.percent(60)
        raise AssertionError("It went on.")

    kinds.job("midway")(cancelled_midway)
    job = enqueue(kind="midway", by=owner)
    running.run(job.pk)
    job.refresh_from_db()
    assert (job.state, job.percent, job.error) == ("cancelled", 50, "")


def test_only_the_owner_sees_and_cancels(owner, stranger):
    job = enqueue(kind="check_queue", arguments=SUM, by=owner)
    with pytest.raises(PermissionDenied):
        cancel_job(job=job, by=stranger)
    with pytest.raises(Http404):
        job_for(stranger, job.pk)
    assert job_for(owner, job.pk) == job
    assert not jobs_of(stranger)


def test_a_finished_job_cannot_be_cancelled(owner, run_jobs):
    job = enqueue(kind="check_queue", arguments=SUM, by=owner)
    run_jobs()
    with pytest.raises(PermissionDenied, match="already finished"):
        cancel_job(job=job, by=owner)


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (JobFailedError("There is nobody in this cohort."), "There is nobody in this cohort."),
        (SoftTimeLimitExceeded(), "took longer"),
        (RuntimeError("a secret of the machine"), "report the job"),
    ],
)
def test_a_failure_is_told_in_a_sentence_and_hides_the_inside(owner, kinds, error, said):
    def failing(context):
        raise error

    kinds.job("failing")(failing)
    job = enqueue(kind="failing", by=owner)
    running.run(job.pk)
    job.refresh_from_db()
    assert job.state == "failed"
    assert said in job.error
    assert "secret" not in job.error


def test_a_killed_workers_job_is_brought_back_and_gives_the_same_result(owner, run_jobs):
    undisturbed = enqueue(kind="check_queue", arguments=SUM, by=owner)
    run_jobs()
    lost = a_running_job(owner, percent=50, heartbeat_at=timezone.now() - timedelta(minutes=5))
    with mock.patch("casebank.core.tasks.run_job.delay") as delay:
        swept = sweeping.sweep()
    assert (swept.requeued, swept.resent) == (1, 1)
    delay.assert_called_once_with(str(lost.pk))
    assert run_jobs() == 1
    lost.refresh_from_db()
    undisturbed.refresh_from_db()
    assert (lost.state, lost.result, lost.attempts) == ("done", undisturbed.result, 2)


def test_a_run_that_only_looked_dead_writes_nothing_any_more(owner):
    first = a_running_job(owner, heartbeat_at=timezone.now() - timedelta(minutes=5))
    sweeping.sweep()
    second = running.claim(first.pk)
    assert second is not None
    with pytest.raises(JobLostError):
        Progress(first.pk, first.attempts).percent(90)
    assert running._finish(first, state="done", result={"sum": -1}) is False
    Progress(second.pk, second.attempts).percent(10)
    second.refresh_from_db()
    assert (second.state, second.percent, second.result) == ("running", 10, None)


def test_a_living_job_is_left_alone(owner):
    job = a_running_job(owner)
    assert sweeping.sweep() == sweeping.Swept(0, 0, 0, 0)
    job.refresh_from_db()
    assert job.state == "running"


def test_a_lost_job_whose_owner_asked_to_stop_is_cancelled(owner):
    long_ago = timezone.now() - timedelta(minutes=5)
    job = a_running_job(owner, heartbeat_at=long_ago, cancel_requested=True)
    assert sweeping.sweep().cancelled == 1
    job.refresh_from_db()
    assert job.state == "cancelled"


def test_a_job_that_kills_its_worker_every_time_is_given_up(owner):
    long_ago = timezone.now() - timedelta(minutes=5)
    job = a_running_job(owner, heartbeat_at=long_ago, attempts=sweeping.MOST_ATTEMPTS)
    assert sweeping.sweep().given_up == 1
    job.refresh_from_db()
    assert (job.state, "Report this job" in job.error) == ("failed", True)


def test_a_message_that_was_never_taken_goes_out_again_ever_more_rarely(owner):
    job = enqueue(kind="check_queue", arguments=SUM, by=owner)
    with mock.patch("casebank.core.tasks.run_job.delay"):
        send(job_id=job.pk)
        sent = timezone.now()
        assert sweeping.sweep(sent + timedelta(seconds=50)).resent == 0
        assert sweeping.sweep(sent + timedelta(seconds=61)).resent == 1
        assert sweeping.sweep(sent + timedelta(seconds=100)).resent == 0
        assert sweeping.sweep(sent + timedelta(seconds=125)).resent == 1


def test_a_site_that_starts_alone_brings_every_running_job_back_at_once(owner, run_jobs):
    job = a_running_job(owner)
    assert sweeping.requeue_all_running() == 1
    assert run_jobs() == 1
    job.refresh_from_db()
    assert job.state == "done"


def test_cancelled_and_lost_are_different_things(owner):
    job = a_running_job(owner, cancel_requested=True)
    with pytest.raises(JobCancelledError):
        Progress(job.pk, job.attempts).percent(10)
    with pytest.raises(JobLostError):
        Progress(job.pk, job.attempts + 1).percent(10)


def test_two_functions_cannot_claim_one_kind(kinds):
    kinds.job("mine")(print)
    with pytest.raises(ValueError, match="Two functions claim"):
        kinds.job("mine")(repr)
