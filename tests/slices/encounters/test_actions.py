"""Asking, stating and concluding, as they are stored."""

from __future__ import annotations

import pytest
from django.db import DatabaseError, transaction
from django.http import Http404

from casebank.domain.encounter.codec import state_to_json
from casebank.domain.encounter.engine import replay
from casebank.domain.encounter.model import EncounterError, Request
from casebank.encounters import actions
from casebank.encounters.models import Encounter, Entry, Mark
from casebank.encounters.queries import case_of, log_of
from tests.factories.encounters import CLEAN, WELL, asked, concluded

pytestmark = pytest.mark.django_db


def test_a_request_is_logged_and_charged(people, encounter):
    found = asked(encounter, CLEAN, WELL, by=people.student)
    assert found.minutes == 2.5
    assert [entry.kind for entry in log_of(found)] == ["request", "request"]


def test_the_live_state_equals_the_replayed_log(people, encounter):
    asked(encounter, CLEAN, WELL, WELL, Request("apex-palpate"), by=people.student)
    encounter.refresh_from_db()
    state, _ = replay(case_of(encounter), log_of(encounter))
    assert encounter.live == state_to_json(state)


def test_one_key_never_charges_twice(people, encounter):
    first = asked(encounter, WELL, by=people.student, key="once")
    again, entries = actions.ask(
        encounter_id=encounter.pk, say=lambda *_: [WELL], by=people.student, key="once"
    )
    assert again.minutes == first.minutes == 2
    assert [entry.seq for entry in entries] == [1]
    assert Entry.objects.count() == 1


def test_all_requests_of_a_sentence_are_made_or_none(people, encounter):
    with pytest.raises(EncounterError):
        asked(encounter, CLEAN, Request("no-such-step"), by=people.student)
    assert Entry.objects.count() == 0


def test_beginning_twice_gives_the_open_encounter(people, encounter):
    assert actions.begin(version=encounter.version, by=people.student).pk == encounter.pk


def test_nobody_else_can_ask_in_my_encounter(people, encounter):
    with pytest.raises(Http404):
        asked(encounter, CLEAN, by=people.tutor)


def test_concluding_marks_once_and_opens_the_way_to_another_attempt(people, encounter):
    asked(encounter, CLEAN, WELL, by=people.student)
    found = concluded(encounter, by=people.student)
    assert Mark.objects.get(encounter=found).total > 80
    assert actions.begin(version=encounter.version, by=people.student).pk != encounter.pk


def test_nothing_can_be_asked_after_the_conclusion(people, encounter):
    concluded(encounter, by=people.student)
    with pytest.raises(EncounterError, match="concluded"):
        asked(encounter, CLEAN, by=people.student)


@pytest.mark.parametrize("model", [Entry, Mark])
@pytest.mark.parametrize("verb", ["update", "delete"])
def test_the_database_refuses_to_change_the_log_and_the_marks(people, encounter, model, verb):
    asked(encounter, CLEAN, by=people.student)
    concluded(encounter, by=people.student)
    rows = model.objects.all()
    change = {"seq": 99} if model is Entry else {"total": 1.0}
    write = (
        (lambda: rows._raw_delete(rows.db)) if verb == "delete" else lambda: rows.update(**change)
    )
    with pytest.raises(DatabaseError), transaction.atomic():
        write()


def test_a_retired_version_stays_examinable_for_those_who_began(people, encounter):
    from casebank.cases.actions import move

    move(version=encounter.version, name="retire", by=people.reviewer)
    assert asked(encounter, CLEAN, by=people.student).minutes == 0.5
    assert Encounter.objects.count() == 1
