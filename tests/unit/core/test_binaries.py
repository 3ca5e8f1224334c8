"""The programs inside the wheel, and their copy for users who cannot reach the wheel."""

from __future__ import annotations

import subprocess

from casebank.core.server.binaries import MAJOR, copied_programs, installed_programs


def test_a_copy_runs_from_its_new_place_and_is_open_to_every_user(tmp_path):
    copy = copied_programs(installed_programs(), tmp_path)
    assert tmp_path in copy.folder.parents
    for program in (copy.initdb, copy.postgres):
        said = subprocess.run([program, "--version"], capture_output=True, text=True, check=True)
        assert f"(PostgreSQL) {MAJOR}." in said.stdout
        assert program.stat().st_mode & 0o005 == 0o005


def test_a_copy_made_halfway_is_not_used(tmp_path):
    first = copied_programs(installed_programs(), tmp_path)
    assert copied_programs(first, tmp_path) == first
    assert [path.name for path in tmp_path.iterdir()] == [first.folder.parents[2].name]
