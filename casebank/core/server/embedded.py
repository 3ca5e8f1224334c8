"""Runs the embedded server as a child in the foreground, from start to fast shutdown."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import time
from collections.abc import Sequence
from pathlib import Path

import psycopg
from psycopg import sql

from casebank.core.server.account import Account, server_account
from casebank.core.server.binaries import Programs, copied_programs, installed_programs
from casebank.core.server.cluster import ROLE, ensure_cluster, run_as
from casebank.core.server.errors import CannotStartError
from casebank.core.server.folders import make_private_folders, make_site_folder
from casebank.core.server.leftover import clear_leftover
from casebank.core.server.lock import SiteLock
from casebank.core.server.place import ROOTS_OTHER_PLACE, may_others_reach, place_for
from casebank.core.server.tether import tethered

DATABASE = "casebank"
# Recovery after a crash may be long; a server that answers nothing for this long is lost.
SECONDS_TO_START = 300.0
SECONDS_TO_STOP = 30.0
ONLY_FOR_TESTS = ("fsync=off", "synchronous_commit=off", "full_page_writes=off")


class EmbeddedServer:
    """One PostgreSQL server for the site whose folder is ``var``; socket only, no TCP."""

    def __init__(self, var: Path, *, settings: Sequence[str] = ()) -> None:
        self.var = var.absolute()
        self.place = place_for(self.var)
        self.log = self.var / "log" / "postgres.log"
        self._settings = ("listen_addresses=", "unix_socket_permissions=0700", *settings)
        self._lock = SiteLock(self.var)
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        """The address as ``DATABASE_URL`` would give it."""
        return f"postgres://{ROLE}@/{DATABASE}?host={self.place.sockets}"

    def start(self) -> None:
        """Make what is missing, start, and return once a real connection worked."""
        make_site_folder(self.var)
        self._lock.take()
        try:
            self._start()
        except BaseException:
            self.stop()
            raise

    def _start(self) -> None:
        account = server_account(self.place.data)
        make_private_folders(self.place, account)
        programs = _programs_for(account)
        ensure_cluster(self.place, programs, account)
        clear_leftover(self.place.data)
        self._process = self._launch(programs, account)
        self._await_answer()
        self._ensure_database()

    def is_running(self) -> bool:
        """Whether our server process lives."""
        return self._process is not None and self._process.poll() is None

    def stop(self) -> None:
        """Fast shutdown: clients are sent away, all is written, nothing is lost."""
        if self._process is not None:
            self._shut_down(self._process)
            self._process = None
        self._lock.drop()

    def _shut_down(self, process: subprocess.Popen[bytes]) -> None:
        for asked in (signal.SIGINT, signal.SIGQUIT, signal.SIGKILL):
            if process.poll() is None:
                process.send_signal(asked)
            with contextlib.suppress(subprocess.TimeoutExpired):
                process.wait(SECONDS_TO_STOP)
                return

    def _launch(self, programs: Programs, account: Account | None) -> subprocess.Popen[bytes]:
        command: list[str | Path] = [
            programs.postgres,
            "-D",
            self.place.data,
            "-k",
            self.place.sockets,
        ]
        for setting in self._settings:
            command += ["-c", setting]
        with self.log.open("ab") as log:
            return subprocess.Popen(  # noqa: S603
                command, stdin=subprocess.DEVNULL, stdout=log, stderr=log, start_new_session=True,
                preexec_fn=tethered(signal.SIGINT), **run_as(account),  # noqa: PLW1509
            )  # fmt: skip

    def _await_answer(self) -> None:
        until = time.monotonic() + SECONDS_TO_START
        while time.monotonic() < until:
            if not self.is_running():
                break
            try:
                self._connect("postgres").close()
            except psycopg.OperationalError:
                time.sleep(0.02)
            else:
                return
        raise CannotStartError(
            f"PostgreSQL did not start ({_last_complaint(self.log)}): {self.log} says more."
        )

    def _ensure_database(self) -> None:
        with self._connect("postgres") as connection:
            there = connection.execute("SELECT FROM pg_database WHERE datname = %s", [DATABASE])
            if there.fetchone() is None:
                name = sql.Identifier(DATABASE)
                connection.execute(sql.SQL("CREATE DATABASE {} TEMPLATE template0").format(name))

    def _connect(self, database: str) -> psycopg.Connection:
        return psycopg.connect(
            host=str(self.place.sockets), dbname=database, user=ROLE, autocommit=True,
            connect_timeout=5,
        )  # fmt: skip


def _programs_for(account: Account | None) -> Programs:
    programs = installed_programs()
    if account is None or os.getuid() == account.uid or may_others_reach(programs.postgres):
        return programs
    return copied_programs(programs, ROOTS_OTHER_PLACE)


def _last_complaint(log: Path) -> str:
    lines = log.read_text(errors="replace").splitlines()[-40:]
    complaints = [line for line in lines if "FATAL:" in line or "PANIC:" in line]
    return complaints[-1].split(": ", 1)[-1].strip() if complaints else "it gave no reason"
