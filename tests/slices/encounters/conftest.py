"""The cast and an encounter."""

from __future__ import annotations

import pytest

from tests.factories.encounters import begun
from tests.factories.people import Cast, cast


@pytest.fixture
def people(db) -> Cast:
    return cast()


@pytest.fixture
def encounter(people):
    return begun(people)


@pytest.fixture
def student(client, people):
    client.force_login(people.student)
    return client
