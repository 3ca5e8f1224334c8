"""Asking for a rehearsal, and the job: once for the same text, resumed when its worker is lost."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from casebank.audit.models import Event
from casebank.cases.actions import save_draft
from casebank.cases.errors import NotFit, Refused
from casebank.core.jobs import running, sweeping
from casebank.core.jobs.actions import cancel_job
from casebank.core.jobs.progress import Progress
from casebank.core.models import Job
from casebank.demo.tasks import examine
from casebank.domain.examination.readings import SignReader
from casebank.domain.rehearsal import Learner, walk
from casebank.encounters.models import Encounter, Entry, Mark
from casebank.encounters.queries import case_of, log_of
from casebank.rehearsals.actions import rehearse
from casebank.rehearsals.models import Rehearsal
from tests.factories.cases import draft, published, small_document
from tests.factories.encounters import small_bed

pytestmark = pytest.mark.django_db


def edited(version, **changes):
    version.refresh_from_db()
    return save_draft(
        version=version, document=small_document(**changes), lock=version.lock, by=version.author
    )


def test_the_job_stores_what_every_kind_of_learner_did(version, run_jobs):
    found = rehearse(version=version, by=version.author)
    assert run_jobs() == 1
    found.refresh_from_db()
    assert [kind["learners"] for kind in found.result["kinds"]] == [40, 40, 40]
    assert found.finished_at is not None
    assert found.job.state == "done"
    assert str(found.pk) in found.job.result["url"]


def test_nothing_of_it_is_anybodys_encounter(version, run_jobs):
    rehearse(version=version, by=version.author)
    run_jobs()
    assert not Encounter.objects.exists()
    assert not Entry.objects.exists()
    assert not Mark.objects.exists()
    told = set(Event.objects.values_list("name", flat=True))
    assert {name for name in told if "encounter" in name} == set()
    assert "rehearsal_asked_for" in told


def test_a_learner_leaves_the_log_that_a_person_who_did_the_same_would(people):
    bed, learner = small_bed(people), Learner(0.4, 7)
    examine(version=bed, learner=learner, by=people.student)
    encounter = Encounter.objects.get()
    case = case_of(encounter)
    walked = walk(case, learner, SignReader(case.catalogue.vocabulary))
    kept = [(e.seq, e.kind, e.payload) for e in log_of(encounter)]
    assert [(e.seq, e.kind, e.payload) for e in walked] == kept


def test_a_second_click_starts_no_second_job(version):
    first = rehearse(version=version, by=version.author)
    assert rehearse(version=version, by=version.author) == first
    assert Job.objects.count() == 1


def test_an_unchanged_text_is_not_rehearsed_again_when_done(version, run_jobs):
    first = rehearse(version=version, by=version.author)
    run_jobs()
    assert rehearse(version=version, by=version.author) == first


def test_a_changed_text_is_rehearsed_anew(version):
    first = rehearse(version=version, by=version.author)
    second = rehearse(version=edited(version, title="Other words"), by=version.author)
    assert second != first
    assert second.document["title"] == "Other words"
    first.refresh_from_db()
    assert first.document["title"] != "Other words"


@pytest.mark.parametrize("state", ["failed", "cancelled"])
def test_after_a_rehearsal_that_came_to_nothing_one_may_ask_again(version, state, run_jobs):
    first = rehearse(version=version, by=version.author)
    if state == "cancelled":
        cancel_job(job=first.job, by=version.author)
    else:
        Job.objects.filter(pk=first.job_id).update(
            state=state, finished_at=timezone.now()
        )  # fmt: skip
    second = rehearse(version=version, by=version.author)
    assert second != first
    assert run_jobs() == 1
    second.refresh_from_db()
    assert second.result is not None


def test_a_draft_with_errors_is_not_rehearsed(people):
    broken = draft(people.author, truth=["no-such"])
    with pytest.raises(NotFit):
        rehearse(version=broken, by=people.author)
    assert not Rehearsal.objects.exists()


def test_only_the_author_rehearses_and_only_before_it_is_published(people, version):
    with pytest.raises(Refused):
        rehearse(version=version, by=people.other_author)
    shown = published(people.author, people.reviewer, slug="shown", title="Shown")
    with pytest.raises(Refused, match="nobody has sat"):
        rehearse(version=shown, by=people.author)


def test_a_rehearsal_cancelled_while_it_runs_stops_and_keeps_nothing(version, monkeypatch):
    found = rehearse(version=version, by=version.author)
    told = Progress.percent

    def percent(self, done, message=""):
        if done > 30:
            Job.objects.filter(pk=found.job_id).update(cancel_requested=True)
        told(self, done, message)

    monkeypatch.setattr(Progress, "percent", percent)
    running.run(found.job_id)
    found.refresh_from_db()
    assert found.job.state == "cancelled"
    assert 0 < found.job.percent <= 30
    assert found.result is None


def test_a_killed_workers_rehearsal_is_run_again_with_the_same_result(version, run_jobs):
    found = rehearse(version=version, by=version.author)
    running.claim(found.job_id)  # a worker takes it and is killed
    later = timezone.now() + timedelta(hours=1)
    assert sweeping.sweep(later).requeued == 1
    run_jobs()
    found.refresh_from_db()
    result = found.result
    Rehearsal.objects.update(result=None)
    Job.objects.create(
        kind="rehearsal", arguments={"rehearsal": str(found.pk)}, owner=version.author
    )
    run_jobs()
    found.refresh_from_db()
    assert result is not None
    assert found.result == result


def test_a_scheme_that_asks_for_what_cannot_be_done_fails_in_words(version, monkeypatch):
    from casebank.domain.encounter.model import EncounterError
    from casebank.rehearsals import tasks

    def refuse(*_):
        raise EncounterError("There is no step 'x' in the catalogue.")

    monkeypatch.setattr(tasks, "walk", refuse)
    found = rehearse(version=version, by=version.author)
    running.run(found.job_id)
    found.job.refresh_from_db()
    assert found.job.state == "failed"
    assert found.job.error.startswith("A learner could not do what the scheme asks.")
