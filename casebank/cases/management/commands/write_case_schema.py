"""``manage.py write_case_schema``: writes the JSON Schema of case documents to its file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from casebank.domain.casefile.canonical import json_schema_text


class Command(BaseCommand):
    """Run it after a change to ``casefile/schema.py``; a test compares file and code."""

    help = "Write fixtures/case.schema.json from the code."
    requires_system_checks = ()

    def handle(self, *args: Any, **options: Any) -> None:
        """Write the file."""
        file = Path(settings.BASE_DIR) / "fixtures" / "case.schema.json"
        file.write_text(json_schema_text(), encoding="utf-8")
        self.stdout.write(f"Wrote {file.name}")
