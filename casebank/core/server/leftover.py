"""What an earlier server left behind: its pid file, and perhaps itself still stopping.

A pid file may outlive its server (power cut, container restart) and its number may by then
belong to an innocent process: no process is waited for or signalled before its command and its
folder prove that it is a server of this very data folder.
"""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import time
from pathlib import Path

from casebank.core.server.errors import CannotStartError


def clear_leftover(data: Path, *, patience: float = 20.0) -> None:
    """Wait for an orphaned server of ``data`` to stop (asking it to), and drop a stale pid file."""
    pid_file = data / "postmaster.pid"
    pid = _pid_in(pid_file)
    if pid is not None and is_server_of(pid, data):
        _see_out(pid, data, patience)
    elif pid_file.exists():
        # PostgreSQL itself would take any living process of this number for its predecessor.
        # Its shared memory check still refuses to start beside backends of the old server.
        pid_file.unlink()


def _see_out(pid: int, data: Path, patience: float) -> None:
    with contextlib.suppress(ProcessLookupError):
        os.kill(pid, signal.SIGINT)
    until = time.monotonic() + patience
    while is_server_of(pid, data):
        if time.monotonic() > until:
            raise CannotStartError(
                f"An earlier PostgreSQL server of {data} does not stop: "
                f"end the process {pid} and start again."
            )
        time.sleep(0.05)


def _pid_in(pid_file: Path) -> int | None:
    try:
        first = pid_file.read_text().split("\n", 1)[0]
        return abs(int(first)) or None
    except (OSError, ValueError):
        return None


def is_server_of(pid: int, data: Path) -> bool:
    """Whether process ``pid`` is a living PostgreSQL server started on ``data``."""
    command = _command_of(pid)
    return bool(command) and Path(command[0]).name == "postgres" and str(data) in command


def _command_of(pid: int) -> list[str]:
    proc = Path("/proc")
    if (proc / "self").exists():
        try:  # a zombie has an empty command line, so it counts as gone
            words = (proc / str(pid) / "cmdline").read_bytes().split(b"\0")
        except OSError:
            return []
        return [os.fsdecode(word) for word in words if word]
    shown = subprocess.run(  # noqa: S603
        ["/bin/ps", "-o", "command=", "-p", str(pid)],
        check=False, capture_output=True, text=True,
    )  # fmt: skip
    return shown.stdout.split()
