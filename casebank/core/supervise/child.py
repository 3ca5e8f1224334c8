"""One child process of the supervisor: started tethered to us, logged to a file, stopped whole."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from casebank.core.server.tether import tethered

LARGEST_LOG = 10_000_000


@dataclass
class Child:
    """A program that must run as long as the site does.

    It gets a session of its own, so a Ctrl-C at the terminal reaches only the supervisor, which
    then stops everything in order.
    """

    name: str
    command: Sequence[str]
    log: Path
    environment: Mapping[str, str]
    keep_open: Sequence[int] = ()
    _process: subprocess.Popen[bytes] | None = field(default=None, init=False)

    def start(self) -> None:
        """Start the program."""
        if self.log.exists() and self.log.stat().st_size > LARGEST_LOG:
            self.log.replace(self.log.with_suffix(".log.1"))
        with self.log.open("ab") as log:
            self._process = subprocess.Popen(  # noqa: S603
                self.command, stdin=subprocess.DEVNULL, stdout=log, stderr=log,
                env=dict(self.environment), pass_fds=self.keep_open, start_new_session=True,
                # Outright: a worker asked to stop while its database goes away waits for ever.
                preexec_fn=tethered(signal.SIGKILL),  # noqa: PLW1509
            )  # fmt: skip

    def exit_code(self) -> int | None:
        """The code it ended with; None while it runs."""
        return self._process.poll() if self._process else None

    def ask_to_stop(self) -> None:
        """Ask politely: finish what is under way and end."""
        if self._process and self._process.poll() is None:
            self._process.terminate()

    def end(self, until: float) -> None:
        """Wait until the monotonic time ``until``, then kill what is left of it and its own."""
        if self._process is None:
            return
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._process.wait(max(0.0, until - time.monotonic()))
        with contextlib.suppress(ProcessLookupError, PermissionError):
            os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait()

    def restart(self, patience: float) -> None:
        """Stop it within ``patience`` seconds, by force if need be, and start it again."""
        self.ask_to_stop()
        self.end(time.monotonic() + patience)
        self.start()

    def last_words(self) -> str:
        """The last line of its log that is not empty."""
        with contextlib.suppress(OSError):
            lines = [line for line in self.log.read_text(errors="replace").splitlines() if line]
            return lines[-1].strip() if lines else "it said nothing"
        return "it said nothing"
