"""Turns the database's address into what Django and the message transport want."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from casebank.core.server.cluster import ROLE
from casebank.core.server.embedded import DATABASE
from casebank.core.server.place import place_for

SAFE = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-./:")


def is_embedded(environment: Mapping[str, str] = os.environ) -> bool:
    """Whether the site brings its own server: true unless a database address is given."""
    return not (environment.get("DATABASE_URL") or environment.get("DATABASE_URL_FILE"))


def embedded_database(var: Path) -> dict[str, Any]:
    """Django's settings for the embedded server of the site in ``var``."""
    return {"NAME": DATABASE, "USER": ROLE, "HOST": str(place_for(var).sockets)}


def broker_conninfo(database: Mapping[str, Any]) -> str:
    """The keyword form of Django's database settings for the ``pgmq`` transport.

    The transport parses it, then joins the parts again without quoting: values that need quotes
    are therefore quoted twice, once for each reading.
    """
    keys = {"host": "HOST", "port": "PORT", "dbname": "NAME", "user": "USER",
            "password": "PASSWORD"}  # fmt: skip
    given = {word: str(database.get(key) or "") for word, key in keys.items()}
    return " ".join(f"{word}={_quoted_twice(value)}" for word, value in given.items() if value)


def _quoted_twice(value: str) -> str:
    return value if set(value) <= SAFE else _quoted(_quoted(value))


def _quoted(value: str) -> str:
    escaped = value.replace("\\", "\\\\").replace("'", "\\'")
    return f"'{escaped}'"
