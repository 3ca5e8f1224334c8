"""A stale pid file never harms the process that now carries its number."""

from __future__ import annotations

import subprocess
from pathlib import Path

from casebank.core.server.leftover import clear_leftover, is_server_of


def test_an_innocent_process_with_the_old_number_is_left_alone(tmp_path):
    innocent = subprocess.Popen(["sleep", "60"])
    try:
        (tmp_path / "postmaster.pid").write_text(f"{innocent.pid}\n{tmp_path}\n")
        clear_leftover(tmp_path)
        assert innocent.poll() is None
        assert not (tmp_path / "postmaster.pid").exists()
    finally:
        innocent.kill()
        innocent.wait()


def test_a_server_of_another_folder_is_not_ours(tmp_path):
    # argv[0] is what the kernel shows as its command: this one calls itself postgres.
    command = ["postgres", "-c", "read wait", "/srv/other/data"]
    other = subprocess.Popen(command, executable="/bin/sh", stdin=subprocess.PIPE)
    try:
        while not Path(f"/proc/{other.pid}/cmdline").read_bytes():
            pass  # the kernel shows it a moment after the start
        assert is_server_of(other.pid, Path("/srv/other/data"))
        assert not is_server_of(other.pid, tmp_path)
    finally:
        other.kill()
        other.communicate()


def test_a_dead_process_is_no_server(tmp_path):
    gone = subprocess.Popen(["true"])
    gone.wait()
    assert not is_server_of(gone.pid, tmp_path)


def test_an_unreaped_process_is_no_server(tmp_path):
    zombie = subprocess.Popen(["true"])
    try:
        while "Z" not in _state(zombie.pid):
            pass
        assert not is_server_of(zombie.pid, tmp_path)
    finally:
        zombie.wait()


def test_rubbish_in_the_pid_file_is_cleared(tmp_path):
    (tmp_path / "postmaster.pid").write_text("not a number\n")
    clear_leftover(tmp_path)
    assert not (tmp_path / "postmaster.pid").exists()


def _state(pid: int) -> str:
    return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0]
