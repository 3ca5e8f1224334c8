"""The embedded server: made whole or not at all, alone in its folder, nothing lost by kill -9."""

from __future__ import annotations

import os
import shutil
import signal
import stat
import tempfile
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

from casebank.core.server.embedded import EmbeddedServer
from casebank.core.server.errors import CannotStartError
from casebank.core.server.folders import make_site_folder
from casebank.core.server.place import place_for


@pytest.fixture
def var() -> Iterator[Path]:
    """A site folder that every user may pass through, as a clone usually is."""
    folder = Path(tempfile.mkdtemp(prefix="cb"))
    folder.chmod(0o755)
    yield folder / "var"
    for path in (place_for(folder / "var").root, place_for(folder / "var").sockets, folder):
        shutil.rmtree(path, ignore_errors=True)


@pytest.fixture
def server(var: Path) -> Iterator[EmbeddedServer]:
    """A started server."""
    running = EmbeddedServer(var)
    running.start()
    yield running
    running.stop()


def test_it_is_private_orders_text_alike_everywhere_and_listens_on_no_port(server):
    with psycopg.connect(server.url) as connection:
        row = connection.execute(
            "SELECT datlocprovider, datlocale, current_setting('listen_addresses'),"
            " current_setting('fsync') FROM pg_database WHERE datname = current_database()"
        ).fetchone()
    assert row == ("b", "C.UTF-8", "", "on")
    for folder in (server.place.root, server.place.data, server.place.sockets):
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_what_was_committed_outlives_kill_9(server, var):
    with psycopg.connect(server.url) as connection:
        connection.execute("CREATE TABLE kept AS SELECT 42 AS answer")
    postmaster = int((server.place.data / "postmaster.pid").read_text().split()[0])
    os.kill(postmaster, signal.SIGKILL)
    server.stop()
    again = EmbeddedServer(var)
    again.start()
    try:
        with psycopg.connect(again.url) as connection:
            assert connection.execute("SELECT answer FROM kept").fetchone() == (42,)
    finally:
        again.stop()


def test_a_stale_pid_file_of_an_innocent_process_does_not_stop_the_start(server, var):
    server.stop()
    (server.place.data / "postmaster.pid").write_text(f"{os.getppid()}\n{server.place.data}\n")
    again = EmbeddedServer(var)
    again.start()
    again.stop()
    assert os.getppid() > 0  # it got no signal: we would be orphans, or gone


def test_a_second_start_in_the_same_folder_is_refused_and_harms_nothing(server, var, monkeypatch):
    second = EmbeddedServer(var)
    take = second._lock.take
    monkeypatch.setattr(second._lock, "take", lambda: take(patience=0))
    with pytest.raises(CannotStartError, match=rf"already runs .*process {os.getpid()}\)"):
        second.start()
    second.stop()
    assert server.is_running()


def test_a_cluster_whose_making_was_interrupted_is_made_anew(var):
    root = place_for(var).root
    half = root / "data.unfinished"
    half.mkdir(parents=True)
    (half / "PG_VERSION").write_text("18\n")
    var.chmod(0o755)
    if os.geteuid() == 0:
        shutil.chown(root, _owner_of_server())
    server = EmbeddedServer(var)
    server.start()
    server.stop()
    assert not half.exists()
    assert (server.place.data / "casebank-made").exists()


def test_data_of_another_postgresql_is_kept_and_named(server, var):
    server.stop()
    (server.place.data / "PG_VERSION").write_text("16\n")
    with pytest.raises(CannotStartError, match="made by PostgreSQL 16 and this is 18"):
        EmbeddedServer(var).start()


def test_a_file_in_the_way_is_said_in_one_sentence(tmp_path):
    (tmp_path / "file").touch()
    with pytest.raises(CannotStartError, match=r"cannot be written.*CASEBANK_VAR"):
        make_site_folder(tmp_path / "file" / "var")


def test_a_read_only_folder_is_said_in_one_sentence(var):
    var.mkdir()
    var.chmod(0o555)
    assert "cannot be written (Permission denied)" in _complaint_of_an_ordinary_user(var)


def _complaint_of_an_ordinary_user(var: Path) -> str:
    """What ``make_site_folder`` says to a user who is not root (root may write anywhere)."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            if os.geteuid() == 0:
                os.setuid(65534)
            make_site_folder(var)
        except CannotStartError as error:
            os.write(writing, str(error).encode())
        finally:
            os._exit(0)
    os.close(writing)
    os.waitpid(child, 0)
    with os.fdopen(reading) as said:
        return said.read()


def _owner_of_server() -> int:
    from casebank.core.server.account import server_account

    account = server_account(Path("/nowhere"))
    assert account is not None
    return account.uid
