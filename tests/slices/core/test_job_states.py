"""A job moves only as its table allows, and the database itself sees to it."""

from __future__ import annotations

import itertools

import pytest
from django.db import DatabaseError, transaction
from django.utils import timezone

from casebank.core.jobs.states import FINAL, OPEN, TRANSITIONS, JobState
from casebank.core.models import Job

pytestmark = pytest.mark.django_db
ALL_MOVES = [pair for pair in itertools.product(JobState.values, repeat=2) if pair[0] != pair[1]]


def job_in(state: str) -> Job:
    finished = timezone.now() if state in FINAL else None
    return Job.objects.create(kind="check_queue", state=state, finished_at=finished)


@pytest.mark.parametrize(("before", "after"), ALL_MOVES)
def test_a_move_is_possible_exactly_when_the_table_has_it(before, after):
    job = job_in(before)
    finished = timezone.now() if after in FINAL else None
    rows = Job.objects.filter(pk=job.pk)
    if (before, after) in TRANSITIONS:
        assert rows.update(state=after, finished_at=finished) == 1
    else:
        with pytest.raises(DatabaseError, match="Invalid transition"), transaction.atomic():
            rows.update(state=after, finished_at=finished)


def test_every_state_is_open_or_final_and_none_is_both():
    assert sorted(OPEN + FINAL) == sorted(JobState.values)


@pytest.mark.parametrize(
    "wrong", [{"percent": 101}, {"state": "lost"}, {"state": "done", "finished_at": None}]
)
def test_the_database_refuses_a_row_that_makes_no_sense(wrong):
    with pytest.raises(DatabaseError), transaction.atomic():
        Job.objects.create(kind="check_queue", **wrong)
