"""``manage.py remark``: marks concluded encounters by a marking version; never changes a mark."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any
from uuid import UUID

from django.core.management.base import BaseCommand, CommandError, CommandParser

from casebank.domain.marking import MARKERS, MARKING_VERSION
from casebank.encounters.actions import remark
from casebank.encounters.models import Encounter


class Command(BaseCommand):
    """``--encounter ID`` or ``--all``; adds a mark where that version has none yet."""

    help = "Mark concluded encounters by a marking version. Marks that stand are kept."

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        """``--version`` is the marking's here, not Django's."""
        return super().create_parser(prog_name, subcommand, conflict_handler="resolve", **kwargs)

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Which encounters, and by which version."""
        which = parser.add_mutually_exclusive_group(required=True)
        which.add_argument("--encounter", type=UUID, help="one encounter")
        which.add_argument("--all", action="store_true", help="every concluded encounter")
        parser.add_argument("--version", dest="marking", type=int, default=MARKING_VERSION)

    def handle(self, *_: Any, **options: Any) -> None:
        """Mark them, and say how many were new."""
        if options["marking"] not in MARKERS:
            known = ", ".join(map(str, MARKERS))
            raise CommandError(f"There is no such marking version; choose one of {known}.")
        new = seen = 0
        for encounter in _chosen(options["encounter"]):
            seen += 1
            new += remark(encounter=encounter, version=options["marking"], by=None)
        self.stdout.write(
            f"{new} of {seen} encounters newly marked by version {options['marking']}."
        )


def _chosen(pk: UUID | None) -> Any:
    concluded = Encounter.objects.filter(concluded_at__isnull=False)
    if pk is None:
        return concluded.order_by("concluded_at").iterator()
    found = concluded.filter(pk=pk)
    if not found.exists():
        raise CommandError(f"There is no concluded encounter {pk}. Check the id.")
    return found
