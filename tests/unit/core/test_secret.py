"""The local key: one for all processes, readable by its owner alone."""

from __future__ import annotations

import stat

from casebank.core.secret import local_secret_key


def test_the_key_is_made_once_and_private(tmp_path):
    key = local_secret_key(tmp_path / "var")
    assert key == local_secret_key(tmp_path / "var")
    assert len(key) >= 50
    assert stat.S_IMODE((tmp_path / "var" / "secret-key").stat().st_mode) == 0o600
    assert [path.name for path in (tmp_path / "var").iterdir()] == ["secret-key"]


def test_two_sites_have_two_keys(tmp_path):
    assert local_secret_key(tmp_path / "a") != local_secret_key(tmp_path / "b")


def test_where_nothing_can_be_written_the_reason_is_said(tmp_path, capsys):
    (tmp_path / "file").touch()
    assert len(local_secret_key(tmp_path / "file" / "var")) >= 50
    assert "set SECRET_KEY" in capsys.readouterr().err
