"""``manage.py check_case FILE``: every problem of a case document, with its place."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from casebank.core.fixtures import load_catalogue
from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.problems import CaseReview


class Command(BaseCommand):
    """Prints one line a problem; exit status 1 if any is an error, 0 otherwise. No database."""

    help = "Check a case document against the schema, the catalogue and the rules."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        """The file to check."""
        parser.add_argument("file", type=Path, help="a case document in JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the review of the file."""
        file: Path = options["file"]
        review = check_case(_text(file), load_catalogue())
        for problem in review.problems:
            place = problem.path or "(document)"
            self.stdout.write(f"{problem.severity}: {place}: {problem.message}")
        self.stdout.write(f"{file}: {_summary(review)}")
        if not review.is_fit:
            raise SystemExit(1)


def _text(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8")
    except OSError as failure:
        raise CommandError(f"{file} cannot be read: {failure.strerror}") from failure
    except UnicodeDecodeError as failure:
        raise CommandError(f"{file} is not UTF-8 text; save it as UTF-8") from failure


def _summary(review: CaseReview) -> str:
    errors = len(review.errors)
    warnings = len(review.problems) - errors
    return f"{errors} errors, {warnings} warnings"
