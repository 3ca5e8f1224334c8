"""Runs the whole site on this machine: server, web, worker and beat, until Ctrl-C."""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser
from functools import partial
from typing import Any

from django.conf import settings
from django.core.management import BaseCommand, call_command
from django.db import OperationalError, connections

from casebank.core.server.address import is_embedded
from casebank.core.server.errors import CannotStartError
from casebank.core.supervise.port import chosen_port
from casebank.core.supervise.site import Site, SiteFailedError

FAILED, CANNOT_START = 1, 2


class Command(BaseCommand):
    """``manage.py up [--demo] [--host HOST] [--port N]``; exit 2 when it cannot start."""

    help = "Run everything here until Ctrl-C: PostgreSQL, web, worker and beat."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        """The demo, and where to listen."""
        parser.add_argument("--demo", action="store_true", help="load demo people and cases")
        parser.add_argument("--host", default="127.0.0.1", help="address to listen on")
        parser.add_argument("--port", type=int, help="port to listen on (PORT, else 8000)")

    def handle(self, *args: Any, **options: Any) -> None:
        """Run until stopped; one sentence on stderr when that cannot be."""
        try:
            self._run(options)
        except CannotStartError as error:
            self._leave(str(error), CANNOT_START)
        except SiteFailedError as error:
            self._leave(str(error), FAILED)
        except OperationalError as error:
            reason = str(error).strip().splitlines()[0]
            self._leave(
                f"The database cannot be used ({reason}): check DATABASE_URL.", CANNOT_START
            )

    def _run(self, options: dict[str, Any]) -> None:
        embedded = is_embedded()
        site = Site(
            base=settings.BASE_DIR,
            var=settings.VAR_DIR,
            host=options["host"],
            port=chosen_port(options["port"], os.environ.get("PORT")),
            embedded=embedded,
        )
        site.run(
            prepare=partial(self._prepare, demo=options["demo"], only_site=embedded),
            when_up=partial(self._announce, site.url),
        )
        self.stdout.write("Stopped. Your data is kept.")

    def _prepare(self, **options: bool) -> None:
        self.stdout.write("Preparing the database.")
        self.stdout.flush()
        call_command("prepare", stdout=self.stdout, **options)
        connections.close_all()

    def _announce(self, url: str) -> None:
        self.stdout.write(f"Casebank is at {url}/\nCtrl-C stops everything and keeps the data.")
        self.stdout.flush()

    def _leave(self, sentence: str, code: int) -> None:
        self.stderr.write(sentence)
        sys.exit(code)
