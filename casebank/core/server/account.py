"""The system user the server runs as when we are root (PostgreSQL refuses root itself)."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from casebank.core.server.errors import CannotStartError

SYSTEM_USER = "casebank"


@dataclass(frozen=True)
class Account:
    """A user and group by number."""

    uid: int
    gid: int

    def popen_arguments(self) -> dict[str, Any]:
        """What ``subprocess`` needs to run a program as this user."""
        return {"user": self.uid, "group": self.gid, "extra_groups": []}


def server_account(data: Path) -> Account | None:
    """Who runs the server: None (ourselves) unless we are root.

    As root: the owner of an existing cluster, else the system user, made when it is missing.
    """
    if os.geteuid() != 0:
        return None
    if data.exists() and data.stat().st_uid != 0:
        owner = data.stat()
        return Account(owner.st_uid, owner.st_gid)
    return _system_account() or _made_system_account()


def _system_account() -> Account | None:
    try:
        entry = pwd.getpwnam(SYSTEM_USER)
    except KeyError:
        return None
    if entry.pw_uid == 0:
        raise CannotStartError(f"The user {SYSTEM_USER} is root: start as an ordinary user.")
    return Account(entry.pw_uid, entry.pw_gid)


def _made_system_account() -> Account:
    useradd = shutil.which("useradd", path=f"{os.environ.get('PATH', '')}:/usr/sbin:/sbin")
    if useradd:
        subprocess.run(  # noqa: S603
            [useradd, "--system", "--user-group", "--no-create-home", "--home-dir", "/nonexistent",
             "--shell", "/usr/sbin/nologin", SYSTEM_USER],
            check=False, capture_output=True,
        )  # fmt: skip
    # Another start may have made the user at the same moment: what counts is that it exists.
    account = _system_account()
    if account is None:
        raise CannotStartError(
            f"PostgreSQL does not run as root and the user {SYSTEM_USER} cannot be made here: "
            "start as an ordinary user, or set DATABASE_URL."
        )
    return account
