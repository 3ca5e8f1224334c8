"""Who may go where: every address, every method, everybody, against one table."""

from __future__ import annotations

import pytest

from tests.contracts.access_table import PEOPLE
from tests.contracts.asking import Asker, addresses, rows, said
from tests.factories.world import small_world

pytestmark = pytest.mark.django_db
METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")
REFUSED = ("403", "404")


@pytest.fixture
def asker(run_jobs):
    return Asker(small_world(run_jobs))


def test_every_address_of_the_site_stands_in_the_table():
    assert {row.name for row in rows()} == set(addresses())


def test_everybody_gets_the_answer_of_the_table(asker):
    wrong = []
    for row in rows():
        for who in PEOPLE:
            got = said(asker.ask(who, row.method, row.name, row.thing))
            if got != row.answers[who]:
                wrong.append(f"{row}: {who} expected {row.answers[who]}, got {got}")
    assert not wrong, "\n".join(wrong)


def test_what_one_may_not_know_of_reads_like_what_does_not_exist(asker):
    told = []
    for row in rows():
        if not asker.parts[row.name] or row.thing == "key":
            continue
        for who in (who for who in PEOPLE if row.answers[who] in REFUSED):
            refused = asker.ask(who, row.method, row.name, row.thing)
            missing = asker.ask(who, row.method, row.name, row.thing, unknown=True)
            if _seen(refused) != _seen(missing):
                told.append(f"{row}: {who}: {_seen(refused)} is not {_seen(missing)}")
    assert not told, "\n".join(told)


def _seen(answer):
    changing = {"Content-Length", "Set-Cookie"}
    headers = {k: v for k, v in answer.headers.items() if k not in changing}
    return answer.status_code, headers, answer.content


def test_a_method_that_is_not_in_the_table_means_nothing(asker):
    listed = {(row.method, row.name) for row in rows()}
    answered = []
    for row in rows():
        allowed = [who for who in PEOPLE if row.answers[who] not in (*REFUSED, "in", "401")]
        if row.thing == "key" or not allowed:
            continue
        for method in (one for one in METHODS if (one, row.name) not in listed):
            got = asker.ask(allowed[0], method, row.name, row.thing).status_code
            if got != 405:
                answered.append(f"{method} {row.name}: {allowed[0]}: {got}")
    assert not answered, "\n".join(answered)
