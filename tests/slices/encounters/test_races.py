"""Double clicks and two tabs at the same time, in real transactions."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.db import connection

from casebank.encounters import actions
from casebank.encounters.models import Encounter, Entry
from tests.factories.encounters import WELL, begun
from tests.factories.people import cast


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("keys", [("same", "same"), ("one", "another")])
def test_two_submissions_at_once_charge_once_for_one_key_and_twice_for_two(keys):
    people = cast()
    encounter = begun(people)
    together = Barrier(2)

    def submit(key: str) -> list[int]:
        try:
            together.wait()
            _, entries = actions.ask(
                encounter_id=encounter.pk, say=lambda *_: [WELL], by=people.student, key=key
            )
            return [entry.seq for entry in entries]
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        seqs = sorted(seq for made in pool.map(submit, keys) for seq in made)
    times = len(set(keys))
    assert seqs == ([1, 1] if times == 1 else [1, 2])
    assert Entry.objects.count() == times
    assert Encounter.objects.get().minutes == 2 * times
