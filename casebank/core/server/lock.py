"""One supervisor per site folder: a lock the kernel drops when its holder dies, however it dies."""

from __future__ import annotations

import fcntl
import os
import time
from pathlib import Path
from typing import TextIO

from casebank.core.server.errors import CannotStartError


class SiteLock:
    """Holds ``var/running.lock``; the file keeps the holder's process number for the message."""

    def __init__(self, var: Path) -> None:
        self._path = var / "running.lock"
        self._file: TextIO | None = None

    def take(self, *, patience: float = 3.0) -> None:
        """Take the lock, waiting ``patience`` seconds for a predecessor that is just stopping."""
        file = self._file = self._path.open("a+")
        until = time.monotonic() + patience
        while not _locked(file):
            if time.monotonic() > until:
                self.drop()
                raise CannotStartError(
                    f"Casebank already runs from {self._path.parent} (process {self._holder()}): "
                    "stop that one first, or set CASEBANK_VAR to another folder."
                )
            time.sleep(0.1)
        file.truncate(0)
        file.write(str(os.getpid()))
        file.flush()

    def drop(self) -> None:
        """Let the next one in."""
        if self._file is not None:
            self._file.close()
            self._file = None

    def _holder(self) -> str:
        return self._path.read_text().strip() or "unknown"


def _locked(file: TextIO) -> bool:
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True
