"""Loads demo people and cases, and asks for the invented year."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from casebank.demo import actions
from casebank.demo.people import PASSWORD, STAFF
from casebank.encounters.models import Encounter


class Command(BaseCommand):
    """``manage.py load_demo``; a second run changes nothing."""

    help = "Load demo people and cases and invent a year of students."

    def handle(self, *args: Any, **options: Any) -> None:
        """Load, then print the sign-ins."""
        actions.load_people()
        actions.load_cases()
        if not Encounter.objects.exists():
            actions.invent_year()
        self.stdout.write(f"Demo sign-ins; the password of each is {PASSWORD}")
        for person in STAFF:
            self.stdout.write(f"  {person.email:<28} {person.name}, {', '.join(person.roles)}")
