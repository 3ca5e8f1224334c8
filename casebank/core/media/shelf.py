"""A folder of files that can be made again, kept by name up to a size; the oldest used go first.

Owns the folder. What is in the files, and their names, are the caller's.
"""

from __future__ import annotations

import contextlib
import os
import re
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

NAME = re.compile(r"[0-9a-f]{64}\.[a-z]{2,5}")
ROOM = 0.8
"""Share of the size left filled after clearing out, so that not every new file clears."""


@dataclass(frozen=True)
class Shelf:
    """``folder`` is made when first needed; ``most`` is its size in bytes."""

    folder: Path
    most: int

    def get(self, name: str, make: Callable[[], bytes]) -> bytes:
        """The file of that name (64 hexadecimal digits and an ending), made if it is not there."""
        if not NAME.fullmatch(name):
            raise ValueError(f"{name!r} is no name of this shelf: give a SHA-256 and an ending.")
        path = self.folder / name
        try:
            data = path.read_bytes()
        except OSError:  # not there, or no folder to be had: then it is made each time
            data = make()
            self._put(path, data)
        else:
            with contextlib.suppress(OSError):  # cleared out meanwhile, or a shelf we only read
                os.utime(path)
        return data

    def _put(self, path: Path, data: bytes) -> None:
        """Write beside and rename, so that nobody reads half a file; without room, not at all."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            with tempfile.TemporaryDirectory(dir=self.folder) as beside:
                written = Path(beside, path.name)
                written.write_bytes(data)
                written.replace(path)
        except OSError:
            return
        self._clear_out()

    def _clear_out(self) -> None:
        files = []
        for path in self.folder.iterdir():
            with contextlib.suppress(OSError):
                found = path.stat()
                if NAME.fullmatch(path.name):
                    files.append((found.st_mtime, found.st_size, path))
        total = sum(size for _, size, _ in files)
        if total <= self.most:
            return
        for _, size, path in sorted(files):
            path.unlink(missing_ok=True)
            total -= size
            if total <= ROOM * self.most:
                return
