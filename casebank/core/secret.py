"""The key that signs sessions on a laptop: made once, kept beside the data, never in the tree."""

from __future__ import annotations

import os
import secrets
import sys
from pathlib import Path

LENGTH = 64


def local_secret_key(var: Path) -> str:
    """The key in ``var/secret-key``, made on first use; all processes of a site read the same.

    Where ``var`` cannot be written, a key for this process only, with a word on stderr: several
    processes would then not accept each other's sessions.
    """
    path = var / "secret-key"
    try:
        if not path.exists():
            _make(path)
        return path.read_text(encoding="ascii").strip()
    except OSError:
        sys.stderr.write(f"{path} cannot be used: set SECRET_KEY to keep sessions valid.\n")
        return secrets.token_urlsafe(LENGTH)


def _make(path: Path) -> None:
    if not path.parent.exists():
        path.parent.mkdir(parents=True)
        path.parent.chmod(0o755)
    half = path.with_name(f"{path.name}.{os.getpid()}")
    descriptor = os.open(half, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(descriptor, "w", encoding="ascii") as file:
        file.write(secrets.token_urlsafe(LENGTH))
    try:
        path.hardlink_to(half)
    except FileExistsError:
        pass  # another process was first: its key holds
    finally:
        half.unlink()
