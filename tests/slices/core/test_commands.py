"""Commands that set a site up are safe to run again."""

from __future__ import annotations

import pytest
from django.core.management import call_command
from django.db import connection

pytestmark = pytest.mark.django_db


def is_queue_there() -> bool:
    with connection.cursor() as cursor:
        cursor.execute("SELECT to_regclass('pgmq.meta') IS NOT NULL")
        return bool(cursor.fetchone()[0])


def test_the_queue_is_installed_once_and_again_without_harm():
    call_command("install_queue", verbosity=0)
    with connection.cursor() as cursor:
        cursor.execute("SELECT pgmq.create('kept')")
        cursor.execute("SELECT pgmq.send('kept', '{}')")
    call_command("install_queue", verbosity=0)
    with connection.cursor() as cursor:
        cursor.execute("SELECT queue_length FROM pgmq.metrics('kept')")
        assert cursor.fetchone() == (1,)


def test_another_broker_needs_nothing_in_the_database(settings):
    settings.CELERY_BROKER_URL = "amqp://rabbit/"
    call_command("install_queue", verbosity=0)
    assert not is_queue_there()
