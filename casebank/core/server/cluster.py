"""Makes the database cluster, whole or not at all."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

from casebank.core.server.account import Account
from casebank.core.server.binaries import MAJOR, Programs
from casebank.core.server.errors import CannotStartError
from casebank.core.server.place import Place

ROLE = "casebank"
# The same order of text on every machine, whatever locales it has (PostgreSQL 17 and later).
LOCALE = ("--encoding=UTF8", "--locale-provider=builtin", "--builtin-locale=C.UTF-8", "--locale=C")
MARKER = "casebank-made"


def run_as(account: Account | None) -> dict[str, Any]:
    """Arguments for ``subprocess``: the user, a folder it may enter, a plain environment."""
    environment = {"PATH": os.defpath, "LC_ALL": "C", "TZ": "UTC"}
    return {"cwd": "/", "env": environment, **(account.popen_arguments() if account else {})}


def ensure_cluster(place: Place, programs: Programs, account: Account | None) -> None:
    """Make the cluster unless a whole one is there.

    ``initdb`` works in a folder of its own that gets its name and its marker only when it is
    whole, so what an interrupted one leaves is recognised and made anew.
    """
    if place.data.exists():
        _check(place.data)
        return
    half = place.root / "data.unfinished"
    shutil.rmtree(half, ignore_errors=True)
    _initdb(half, programs, account)
    (half / MARKER).touch()
    if account:
        os.chown(half / MARKER, account.uid, account.gid)
    half.rename(place.data)


def _initdb(folder: Path, programs: Programs, account: Account | None) -> None:
    command: list[str | Path] = [programs.initdb, "-D", folder, "-U", ROLE, "--auth=trust", *LOCALE,
               "--no-instructions"]  # fmt: skip
    made = subprocess.run(  # noqa: S603
        command, check=False, capture_output=True, text=True, **run_as(account)
    )
    if made.returncode:
        said = (made.stderr or made.stdout).strip().splitlines() or ["it said nothing"]
        raise CannotStartError(
            f"PostgreSQL could not make its data folder {folder} ({said[-1]}): "
            "free some space or check the folder's owner, then start again."
        )


def _check(data: Path) -> None:
    version = data / "PG_VERSION"
    if not version.exists():
        raise CannotStartError(
            f"{data} is not a PostgreSQL data folder: move it away and start again."
        )
    if version.read_text().strip() != MAJOR:
        raise CannotStartError(
            f"{data} was made by PostgreSQL {version.read_text().strip()} and this is {MAJOR}: "
            "dump it with the version that made it, move it away, start again and restore."
        )
