"""Brings the database to what this version needs; safe to run at every start."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.core.management import BaseCommand, call_command, get_commands
from django.db import connection

from casebank.core.jobs.sweeping import requeue_all_running


class Command(BaseCommand):
    """``manage.py prepare [--demo] [--only-site]``."""

    help = "Migrate, install the queue, make the cache table, load the catalogue."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        """What else to load, and whether other workers may be running."""
        parser.add_argument("--demo", action="store_true", help="load demo people and cases")
        parser.add_argument(
            "--only-site", action="store_true",
            help="no worker runs anywhere: return jobs a dead worker left running to the queue",
        )  # fmt: skip

    def handle(self, *args: Any, **options: Any) -> None:
        """Each step is idempotent."""
        call_command("migrate", interactive=False, verbosity=0, skip_checks=True)
        call_command("install_queue", verbosity=0)
        call_command("createcachetable", verbosity=0)
        self._call_if_there("load_catalogue")
        if options["only_site"]:
            requeue_all_running()
        if options["demo"]:
            self._call_if_there("load_demo")
        connection.close()

    def _call_if_there(self, command: str) -> None:
        if command in get_commands():
            call_command(command, stdout=self.stdout)
