"""``manage.py remark``: another marking version beside the first, which never changes."""

from __future__ import annotations

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from casebank.audit.models import Event
from casebank.encounters.actions import remark
from casebank.encounters.models import Mark
from tests.factories.encounters import CLEAN, WELL, asked, concluded

pytestmark = pytest.mark.django_db


@pytest.fixture
def done(people, encounter):
    asked(encounter, CLEAN, WELL, by=people.student)
    return concluded(encounter, by=people.student)


def run(*arguments):
    out = StringIO()
    call_command("remark", *arguments, stdout=out)
    return out.getvalue().strip()


def rows():
    return {one["id"]: one for one in Mark.objects.values()}


def test_a_version_is_added_and_the_old_mark_stands(done):
    before = rows()
    assert [one["marking_version"] for one in before.values()] == [2]
    assert run("--all", "--version", "1") == "1 of 1 encounters newly marked by version 1."
    after = rows()
    assert {pk: after[pk] for pk in before} == before
    (new,) = (after[pk] for pk in set(after) - set(before))
    assert (new["encounter_id"], new["marking_version"]) == (done.pk, 1)
    assert "interpretation" not in {one["domain"] for one in new["result"]["domains"]}


def test_a_second_run_adds_nothing(done):
    run("--all", "--version", "1")
    before = rows()
    assert run("--all", "--version", "1") == "0 of 1 encounters newly marked by version 1."
    assert run("--all") == "0 of 1 encounters newly marked by version 2."
    assert rows() == before


def test_one_encounter_alone(done):
    said = run("--encounter", str(done.pk), "--version", "1")
    assert said == "1 of 1 encounters newly marked by version 1."


def test_open_encounters_are_passed_over(encounter):
    assert run("--all") == "0 of 0 encounters newly marked by version 2."
    with pytest.raises(CommandError, match="no concluded encounter"):
        run("--encounter", str(encounter.pk))
    with pytest.raises(ValueError, match="not concluded"):
        remark(encounter=encounter, version=2, by=None)
    assert rows() == {}


def test_an_unknown_version_is_refused_before_anything_is_marked(done):
    before = rows()
    with pytest.raises(CommandError, match="choose one of 1, 2"):
        run("--all", "--version", "3")
    assert rows() == before


def test_it_must_be_said_which_encounters(done):
    with pytest.raises(CommandError):
        run()


def test_a_new_mark_is_in_the_audit_trail(done):
    run("--all", "--version", "1")
    assert Event.objects.filter(name="encounter_marked").count() == 1
