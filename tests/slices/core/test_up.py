"""The supervisor as people run it: up, killed, up again with everything there, stopped clean."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest

from casebank.core.server.embedded import EmbeddedServer
from casebank.core.server.place import place_for

MANAGE = Path(__file__).parents[3] / "manage.py"
SECONDS = 120


@pytest.fixture
def site() -> Iterator[SiteUnderTest]:
    """A site folder and a free port of its own; nothing of it is left at the end."""
    folder = Path(tempfile.mkdtemp(prefix="cb"))
    folder.chmod(0o755)
    under_test = SiteUnderTest(folder / "var")
    yield under_test
    under_test.end()
    for path in (place_for(under_test.var).root, place_for(under_test.var).sockets, folder):
        shutil.rmtree(path, ignore_errors=True)


class SiteUnderTest:
    """Starts ``manage.py up`` and asks what it serves."""

    def __init__(self, var: Path) -> None:
        self.var = var
        self.variables: dict[str, str] = {}
        self.process: subprocess.Popen[str] | None = None
        with socket.create_server(("127.0.0.1", 0)) as free:
            self.port = free.getsockname()[1]

    def command(self, *arguments: str) -> subprocess.Popen[str]:
        """A management command of this site."""
        wanted = {"PATH", "HOME", "LANG", "PYTHONPATH"}
        environment = {key: value for key, value in os.environ.items() if key in wanted}
        return subprocess.Popen(
            [sys.executable, str(MANAGE), *arguments],
            env=environment | {"CASEBANK_VAR": str(self.var), "PORT": str(self.port)}
            | self.variables,
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
            preexec_fn=_with_interrupts,  # noqa: PLW1509
        )  # fmt: skip

    def run(self, *arguments: str) -> tuple[int, str, str]:
        """Its exit code, what it printed and what it complained of."""
        process = self.command(*arguments)
        output, complaint = process.communicate(timeout=SECONDS)
        return process.returncode, output, complaint

    def up(self) -> None:
        """Start, and return when the address is printed."""
        self.process = self.command("up")
        assert self.process.stdout is not None
        for line in self.process.stdout:
            if line.startswith("Casebank is at"):
                assert f":{self.port}/" in line
                return
        raise AssertionError(self.process.communicate()[1])

    def leave(self, number: int) -> tuple[int, str]:
        """Signal the supervisor; its exit code and last words."""
        return self.leave_with_complaint(number)[:2]

    def leave_with_complaint(self, number: int) -> tuple[int, str, str]:
        """The same, and all it logged."""
        assert self.process is not None
        self.process.send_signal(number)
        output, complaint = self.process.communicate(timeout=SECONDS)
        return self.process.returncode, output, complaint

    def get(self, path: str) -> Any:
        """The JSON at ``path``, whatever its status."""
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{self.port}{path}") as answer:
                return json.load(answer)
        except urllib.error.HTTPError as error:
            with error:
                return json.load(error)

    def sql(self, query: str) -> Any:
        """The first row of ``query``."""
        with psycopg.connect(EmbeddedServer(self.var).url) as connection:
            return connection.execute(query).fetchone()

    def end(self) -> None:
        """Stop what a failed test left running."""
        if self.process is not None and self.process.poll() is None:
            self.process.kill()
            self.process.communicate()
        until = time.monotonic() + SECONDS
        while self.processes() and time.monotonic() < until:
            time.sleep(0.1)

    def processes(self) -> list[str]:
        """The commands that still run for this site's folder."""
        return [
            entry.name
            for entry in Path("/proc").glob("[0-9]*")
            if entry.name != str(os.getpid()) and str(self.var).encode() in _readable(entry)
        ]

    def pool(self) -> list[int]:
        """The processes in which the worker does its work."""
        assert self.process is not None
        (worker,) = [
            child
            for child in _children(self.process.pid)
            if b"\0worker\0" in _readable(Path("/proc", str(child)))
        ]
        return _children(worker)


def _with_interrupts() -> None:
    """A shell that starts a job with ``&`` has it ignore Ctrl-C, and so would all that it starts."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _children(parent: int) -> list[int]:
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):
            # After the name, which is in brackets: the state and the parent.
            if stat.read_text().rpartition(")")[2].split()[1] == str(parent):
                found.append(int(stat.parent.name))
    return found


def _readable(process: Path) -> bytes:
    try:
        return (process / "cmdline").read_bytes() + (process / "environ").read_bytes()
    except OSError:
        return b""


def until(condition: Any, seconds: float = 90) -> None:
    """Wait for it, look often, give up loudly."""
    end = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < end, "It did not happen in time."
        time.sleep(0.05)


def test_killed_outright_it_leaves_nothing_running_and_loses_nothing(site):
    site.up()
    assert site.get("/livez") == {"live": True}
    until(lambda: site.get("/readyz")["ready"])

    # A job is under way when the supervisor is killed, so that nothing can be tidied up.
    code, job, complaint = site.run(
        "check_queue", "--steps", "20", "--pause", "0.25", "--wait", "0", "--skip-checks"
    )
    assert code == 0, complaint
    state = f"SELECT state, result, attempts FROM core_job WHERE id = '{job.strip()}'"  # noqa: S608
    until(lambda: site.sql(state)[0] == "running")
    site.leave(signal.SIGKILL)
    until(lambda: not site.processes())

    site.up()
    until(lambda: site.sql(state)[0] == "done")
    assert site.sql(state) == ("done", {"sum": 210}, 2)
    code, last = site.leave(signal.SIGINT)
    assert (code, last.strip().splitlines()[-1]) == (0, "Stopped. Your data is kept.")
    assert not site.processes()


def test_a_worker_whose_processes_are_killed_works_again_and_its_job_is_done(site):
    site.variables = {"HEARTBEAT_SECONDS": "1", "JOB_LOST_SECONDS": "15"}
    site.up()
    until(lambda: site.get("/readyz")["ready"])
    long = ("check_queue", "--steps", "16", "--pause", "0.25", "--wait", "0", "--skip-checks")
    job = site.run(*long)[1].strip()
    state = f"SELECT state, result, attempts FROM core_job WHERE id = '{job}'"  # noqa: S608
    until(lambda: site.sql(state)[0] == "running")
    killed = site.pool()
    assert len(killed) == 2
    for process in killed:  # one works; the other waits for work and holds the queue's lock
        os.kill(process, signal.SIGKILL)

    until(lambda: site.sql(state)[0] == "done")
    assert site.sql(state) == ("done", {"sum": 136}, 2)
    code, output, complaint = site.run("check_queue", "--skip-checks")
    assert (code, output[:4]) == (0, "Done"), complaint

    code, output, complaint = site.leave_with_complaint(signal.SIGTERM)
    assert code == 0
    assert complaint.count("The worker showed no life for") == 1
    assert "The beat" not in complaint
    assert not site.processes()


def test_a_busy_port_costs_one_sentence_and_starts_nothing(site):
    with socket.create_server(("127.0.0.1", site.port)):
        code, output, complaint = site.run("up")
    assert (code, output) == (2, "")
    assert complaint.strip() == (
        f"Port {site.port} is in use: stop the program that uses it, or choose another with "
        "--port or PORT."
    )
    assert not place_for(site.var).data.exists()


def test_a_folder_that_cannot_be_written_costs_one_sentence(site):
    site.var.parent.joinpath("file").touch()
    site.var = site.var.parent / "file" / "var"
    code, _, complaint = site.run("up")
    assert code == 2
    assert len([line for line in complaint.splitlines() if "cannot be written" in line]) == 1
    assert "Traceback" not in complaint
