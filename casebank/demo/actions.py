"""Loads the demo through the same actions as people use; running it again changes nothing."""

from __future__ import annotations

import json
from pathlib import Path

from django.conf import settings

from accounts import actions as people_actions
from accounts.models import Cohort, User
from casebank.cases import actions as case_actions
from casebank.cases.models import Case
from casebank.core.jobs.actions import enqueue
from casebank.demo.people import COHORT, PASSWORD, SMALL_COHORT, STAFF, DemoPerson, students

CASES = Path(settings.BASE_DIR) / "fixtures" / "cases"
YEAR = "demo-year"


def load_people() -> None:
    """Roles, cohorts, staff and students."""
    people_actions.load_roles()
    for slug, name in (COHORT, SMALL_COHORT):
        if not Cohort.objects.filter(slug=slug).exists():
            people_actions.create_cohort(slug=slug, name=name, by=None)
    known = set(User.objects.values_list("email", flat=True))
    for person in (*STAFF, *students()):
        if person.email not in known:
            _load_person(person)


def _load_person(person: DemoPerson) -> None:
    # Only the printed sign-ins have a password; the invented year signs in nowhere.
    password = PASSWORD if person in STAFF else None
    user = people_actions.create_person(
        email=person.email, name=person.name, password=password, by=None
    )
    for role in person.roles:
        people_actions.grant_role(user=user, role=role, by=None)
    for slug, role in person.cohorts:
        cohort = Cohort.objects.get(slug=slug)
        people_actions.join_cohort(cohort=cohort, user=user, role=role, by=None)


def load_cases() -> None:
    """The three cases: written, submitted, approved by another, published."""
    author, reviewer = _staff("author"), _staff("reviewer")
    if Case.objects.filter(author=author).exists():
        return
    for path in sorted(CASES.glob("*.json")):
        document = json.loads(path.read_text(encoding="utf-8"))
        version = case_actions.create_case(document=document, by=author)
        for name, person in (("submit", author), ("approve", reviewer), ("publish", author)):
            version = case_actions.move(version=version, name=name, by=person)


def _staff(role: str) -> User:
    return User.objects.get(email=f"{role}@demo.example")


def invent_year() -> None:
    """Ask for the sixty students' encounters; a job replays simulated learners."""
    enqueue(kind=YEAR, arguments={}, by=_staff("tutor"))
