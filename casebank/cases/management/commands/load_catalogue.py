"""Stores the shipped catalogue as a release when it is new; safe to run at every start."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from casebank.cases.actions import load_catalogue
from casebank.core.fixtures import catalogue_texts
from casebank.domain.examination.catalogue import CatalogueError


class Command(BaseCommand):
    """``manage.py load_catalogue``."""

    help = "Store the examination catalogue as a release, unless this release is stored already."

    def handle(self, *args: Any, **options: Any) -> None:
        """Load and say what happened."""
        try:
            release, is_new = load_catalogue(texts=catalogue_texts())
        except CatalogueError as error:
            raise CommandError(f"The catalogue is not fit; correct this:\n{error}") from error
        state = "stored" if is_new else "was stored already"
        self.stdout.write(f"{release} {state}: {release.steps} steps")
