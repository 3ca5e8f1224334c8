"""Makes the private folders of the embedded server and refuses any that are not safe."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from casebank.core.server.account import Account
from casebank.core.server.errors import CannotStartError
from casebank.core.server.place import ROOTS_OTHER_PLACE, Place


def make_site_folder(var: Path) -> None:
    """Make ``var`` and its log folder, open to pass through; an existing one is left as it is."""
    try:
        if not var.exists():
            var.mkdir(parents=True)
            var.chmod(0o755)
        (var / "log").mkdir(exist_ok=True)
        (var / "log" / ".writable").touch()
    except OSError as error:
        raise CannotStartError(
            f"The folder {var} cannot be written ({error.strerror}): make it writable, "
            "or set CASEBANK_VAR to a folder that is."
        ) from error


def make_private_folders(place: Place, account: Account | None) -> None:
    """Make the data's and the socket's folder, mode 0700, owned by the server's user."""
    if ROOTS_OTHER_PLACE in place.root.parents:
        ROOTS_OTHER_PLACE.mkdir(mode=0o755, parents=True, exist_ok=True)
        ROOTS_OTHER_PLACE.chmod(0o755)
    _private(place.root, account)
    _private(place.sockets, account)


def _private(folder: Path, account: Account | None) -> None:
    owner = account.uid if account else os.geteuid()
    try:
        if not os.path.lexists(folder):
            folder.mkdir(mode=0o700)
            if account:
                os.chown(folder, account.uid, account.gid)
        found = folder.lstat()
    except OSError as error:
        raise CannotStartError(
            f"The folder {folder} cannot be made ({error.strerror}): make its parent writable, "
            "or set DATABASE_URL."
        ) from error
    # In a shared folder somebody else may have been first: never use what is not ours alone.
    if not stat.S_ISDIR(found.st_mode) or found.st_uid != owner:
        raise CannotStartError(
            f"{folder} belongs to another user: start as that user, or move the folder away."
        )
    if found.st_mode & 0o077:
        folder.chmod(0o700)
