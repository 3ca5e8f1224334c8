"""Every model says whether it may change, and the database holds it to that."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db import connection

OURS = ("casebank.", "accounts")
# append-only: rows are never changed or deleted; fixed: never changed; mutable: anything else.
KINDS = {
    "core.Job": "mutable",
    "core.Heartbeat": "mutable",
    "core.KeptAnswer": "fixed",
    "audit.Event": "append-only",
    "accounts.User": "mutable",
    "accounts.Role": "mutable",
    "accounts.RoleGrant": "mutable",
    "accounts.Cohort": "mutable",
    "accounts.Membership": "mutable",
    "accounts.ApiToken": "mutable",
    "cases.CatalogueRelease": "fixed",
    "cases.Case": "mutable",
    "cases.CaseVersion": "mutable",  # until approved: tests/slices/cases/test_database_rules.py
    "reviews.Comment": "append-only",
    "rehearsals.Rehearsal": "mutable",
    "encounters.Encounter": "mutable",
    "encounters.Entry": "append-only",
    "encounters.Mark": "append-only",
    "encounters.DebriefComment": "append-only",
    "encounters.MarkAdjustment": "append-only",
    "analytics.CohortReport": "mutable",
}
UPDATE, DELETE = 16, 8  # bits of pg_trigger.tgtype: PostgreSQL, src/include/catalog/pg_trigger.h
REFUSED = {"append-only": UPDATE | DELETE, "fixed": UPDATE, "mutable": 0}


def our_models():
    found = [one for one in apps.get_app_configs() if one.name.startswith(OURS)]
    return {model._meta.label: model for one in found for model in one.get_models()}


def test_every_model_stands_in_the_table():
    assert set(our_models()) == set(KINDS)


@pytest.mark.django_db
@pytest.mark.parametrize(("label", "kind"), KINDS.items())
def test_the_database_refuses_what_the_table_says(label, kind):
    model = our_models()[label]
    protecting = [
        trigger.name
        for trigger in getattr(model._meta, "triggers", ())
        if type(trigger).__name__ == "Protect" and trigger.condition is None
    ]
    assert _refused_by(model._meta.db_table, protecting) & (UPDATE | DELETE) == REFUSED[kind]


def _refused_by(table, names):
    """The operations that enabled triggers of these names meet, together."""
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT tgname, tgtype FROM pg_trigger"
            " WHERE tgrelid = %s::regclass AND tgenabled IN ('O', 'A')",
            [table],
        )
        found = cursor.fetchall()
    met = 0
    for trigger, operations in found:
        if any(trigger.startswith(f"pgtrigger_{name}_") for name in names):
            met |= operations
    return met


@pytest.mark.django_db
def test_the_models_and_the_migrations_agree():
    call_command("makemigrations", "--check", "--dry-run", verbosity=0)


def test_every_migration_has_a_name_of_its_own():
    root = Path(__file__).parents[2]
    files = [*root.glob("casebank/*/migrations/0*.py"), *root.glob("accounts/migrations/0*.py")]
    assert files
    assert [file.name for file in files if re.search(r"_auto_|_alter_|_initial", file.name)] == []
