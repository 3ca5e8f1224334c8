"""The people of the authors' pages; a catalogue is stored."""

from __future__ import annotations

import pytest
from django.test import Client

from tests.factories.browser import signed_in
from tests.factories.cases import small_release
from tests.factories.people import Cast, cast


@pytest.fixture
def people(db) -> Cast:
    small_release()
    return cast()


@pytest.fixture
def ada(people) -> Client:
    return signed_in(people.author)
