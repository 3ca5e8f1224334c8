"""An author with a draft that can be rehearsed."""

from __future__ import annotations

import pytest

from casebank.cases.models import CaseVersion
from tests.factories.cases import draft, small_release
from tests.factories.people import Cast, cast


@pytest.fixture
def people(db) -> Cast:
    small_release()
    return cast()


@pytest.fixture
def version(people) -> CaseVersion:
    return draft(people.author)
