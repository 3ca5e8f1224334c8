"""The cast, a cohort taught by the tutor, and its students' concluded encounters."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from accounts import actions as people_actions
from accounts.models import Cohort
from casebank.cases.models import CaseVersion
from casebank.demo.tasks import examine
from casebank.domain.rehearsal import Learner
from tests.factories.encounters import small_bed
from tests.factories.people import Cast, cast, person

SIZE = 14


@dataclass(frozen=True)
class Year:
    """A cohort that has examined the small case."""

    people: Cast
    cohort: Cohort
    bed: CaseVersion


def small_year(size: int) -> Year:
    """A cohort of this many simulated learners."""
    people = cast()
    cohort = people_actions.create_cohort(slug="year", name="The year", by=None)
    people_actions.join_cohort(cohort=cohort, user=people.tutor, role="tutor", by=None)
    bed = small_bed(people)
    for number in range(size):
        learner = person(f"Learner {number}", "student")
        people_actions.join_cohort(cohort=cohort, user=learner, role="student", by=None)
        examine(version=bed, learner=Learner((number % 7 - 3) / 1.5, seed=number), by=learner)
    return Year(people, cohort, bed)


@pytest.fixture
def year(db) -> Year:
    return small_year(SIZE)
