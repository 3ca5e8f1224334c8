"""The demo loads through people's own actions and twice changes nothing."""

from __future__ import annotations

import pytest
from django.core.management import call_command

from accounts.models import User
from casebank.cases.models import CaseVersion
from casebank.core.models import Job
from casebank.demo.people import PASSWORD, STUDENTS, students
from casebank.demo.tasks import examine
from casebank.domain.rehearsal import Learner
from casebank.encounters.models import Encounter, Mark

pytestmark = pytest.mark.django_db


@pytest.fixture
def demo(db, capsys):
    call_command("load_catalogue")
    call_command("load_demo")
    return capsys.readouterr().out


def test_it_prints_sign_ins_that_work(demo, client):
    assert PASSWORD in demo
    user = User.objects.get(email="student@demo.example")
    assert user.check_password(PASSWORD)
    assert user.role_slugs == {"student"}


def test_three_patients_are_published_by_two_people(demo):
    versions = CaseVersion.objects.filter(state="published")
    assert versions.count() == 3
    assert all(version.approved_by_id != version.author_id for version in versions)


def test_a_second_run_changes_nothing(demo):
    before = User.objects.count(), CaseVersion.objects.count(), Job.objects.count()
    Job.objects.update(state="running")
    call_command("load_demo")
    assert (User.objects.count(), CaseVersion.objects.count()) == before[:2]


def test_the_year_is_sixty_people_with_different_addresses():
    assert len({person.email for person in students()}) == STUDENTS == 60


def test_a_simulated_learner_leaves_a_log_and_marks_and_is_not_sent_twice(demo):
    user = User.objects.get(email="student00@demo.example")
    version = CaseVersion.objects.filter(state="published").order_by("pk")[0]
    for _ in range(2):
        examine(version=version, learner=Learner(0.5, 1), by=user)
    assert Encounter.objects.filter(student=user).count() == 1
    assert Mark.objects.count() == 1
