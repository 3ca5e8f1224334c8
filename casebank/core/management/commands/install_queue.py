"""Installs the message queue's schema into the database, unless it is there."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.core.management import BaseCommand
from django.db import connection, transaction
from pgmq.install import get_embedded_install_sql, get_embedded_sql_version

# Any number of our own: one start at a time installs.
LOCK = 7_021_961


class Command(BaseCommand):
    """``manage.py install_queue``: the schema ``pgmq``, outside migrations and outside backups.

    A restored queue would run old work again, and its script must not run twice: so it is no
    migration, and ``pg_dump -N pgmq`` leaves it out.
    """

    help = "Install the message queue in PostgreSQL (does nothing for another broker)."
    requires_system_checks = ()

    def handle(self, *args: Any, **options: Any) -> None:
        """Install once."""
        if not settings.CELERY_BROKER_URL.startswith("pgmq:"):
            return
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [LOCK])
            cursor.execute("SELECT to_regclass('pgmq.meta') IS NOT NULL")
            if cursor.fetchone() == (True,):
                return
            cursor.execute(get_embedded_install_sql())
        if options["verbosity"]:
            self.stdout.write(f"Queue installed (pgmq {get_embedded_sql_version()}).")
