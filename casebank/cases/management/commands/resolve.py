"""Prints how free words are read as requests: one JSON line a text. Needs no database."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from casebank.core.fixtures import load_catalogue, load_resolver
from casebank.domain.examination.wording import as_json


class Command(BaseCommand):
    """``manage.py resolve "TEXT"`` or ``manage.py resolve --batch FILE``."""

    help = "Read a text, or each line of a file, as a request; print one JSON line for each."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take one text or a file with one text a line."""
        parser.add_argument("text", nargs="?", help="what the student would do, in their own words")
        parser.add_argument("--batch", metavar="FILE", help="a file with one text a line")

    def handle(self, *_: Any, **options: Any) -> None:
        """Print a line for each text."""
        for text in _texts(options["text"], options["batch"]):
            found = as_json(load_resolver().resolve(text), load_catalogue())
            self.stdout.write(json.dumps(found, ensure_ascii=False))


def _texts(text: str | None, batch: str | None) -> list[str]:
    if (text is None) == (batch is None):
        raise CommandError('Give either one text in quotes or --batch FILE, for example "JVP".')
    if batch is None:
        return [text or ""]
    try:
        return Path(batch).read_text(encoding="utf-8").splitlines()
    except OSError as error:
        raise CommandError(f"{batch} cannot be read ({error.strerror}). Check its path.") from error
