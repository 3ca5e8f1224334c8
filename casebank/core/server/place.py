"""Where the embedded server keeps its data and its socket; decides, and makes nothing.

Every process of a site works the same answer out for itself, so no address is passed around:

- data in ``var/pg``; but for root, whose server runs as another user, in ``/var/lib/casebank/``
  when a folder above ``var`` is closed to others. Parent folders are never opened.
- the socket beside the data; in ``/tmp/casebank-<hash>`` when that path would be too long.
"""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass
from pathlib import Path

# A socket address holds 107 bytes and PostgreSQL adds a file name: 80 leaves room on every system.
LONGEST_SOCKET_FOLDER = 80
ROOTS_OTHER_PLACE = Path("/var/lib/casebank")


@dataclass(frozen=True)
class Place:
    """The folders of one embedded server."""

    root: Path
    sockets: Path

    @property
    def data(self) -> Path:
        """The cluster itself; it exists only once it is whole."""
        return self.root / "data"

    @property
    def is_socket_apart(self) -> bool:
        """Whether the socket had to leave the data's folder."""
        return self.sockets.parent != self.root


def place_for(var: Path) -> Place:
    """The folders for the site whose own folder is ``var``."""
    root = _root_for(var.absolute())
    beside = root / "run"
    if len(os.fsencode(beside)) < LONGEST_SOCKET_FOLDER:
        return Place(root, beside)
    return Place(root, Path("/tmp") / f"casebank-{_short(root)}")  # noqa: S108


def _root_for(var: Path) -> Path:
    inside, outside = var / "pg", ROOTS_OTHER_PLACE / _short(var)
    if os.geteuid() != 0 or (inside / "data").exists():
        return inside
    if (outside / "data").exists() or not may_others_reach(var):
        return outside
    return inside


def may_others_reach(path: Path) -> bool:
    """Whether any user may pass through every existing folder on the way to ``path``."""
    return all(part.stat().st_mode & 0o001 for part in (path, *path.parents) if part.exists())


def _short(path: Path) -> str:
    return hashlib.sha256(os.fsencode(path)).hexdigest()[:12]
