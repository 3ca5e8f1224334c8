"""The shelf of files that can be made again: made once, cleared out by last use, never in the way."""

from __future__ import annotations

import os

import pytest

from casebank.core.media.shelf import Shelf


def name(n):
    return f"{n:064x}.flac"


@pytest.fixture
def shelf(tmp_path):
    return Shelf(tmp_path / "media", most=1000)


def never():
    raise AssertionError("it stands on the shelf already")


def test_a_file_is_made_once(shelf):
    assert shelf.get(name(1), lambda: b"sound") == b"sound"
    assert shelf.get(name(1), never) == b"sound"


def test_what_was_used_longest_ago_goes_first(shelf):
    for n in (1, 2):
        shelf.get(name(n), lambda: bytes(400))
        os.utime(shelf.folder / name(n), (n, n))
    shelf.get(name(1), never)  # used again, so now the younger
    shelf.get(name(3), lambda: bytes(400))
    assert {path.name for path in shelf.folder.iterdir()} == {name(1), name(3)}


def test_it_stays_within_its_size(shelf):
    for n in range(40):
        shelf.get(name(n), lambda: bytes(300))
        assert sum(path.stat().st_size for path in shelf.folder.iterdir()) <= shelf.most


def test_nothing_half_written_is_left_behind(shelf):
    shelf.get(name(1), lambda: b"sound")
    assert [path.name for path in shelf.folder.iterdir()] == [name(1)]


def test_a_folder_that_cannot_be_written_is_no_reason_to_fail(tmp_path):
    in_the_way = tmp_path / "media"
    in_the_way.write_text("a file where the folder should be")
    with pytest.raises(NotADirectoryError):
        (in_the_way / "x").read_bytes()
    assert Shelf(in_the_way, 1000).get(name(1), lambda: b"sound") == b"sound"


@pytest.mark.parametrize("bad", ["../secret.flac", "a.flac", f"{1:064x}", f"{1:064x}.FLAC/x"])
def test_only_a_digest_is_a_name(shelf, bad):
    with pytest.raises(ValueError, match="no name"):
        shelf.get(bad, lambda: b"")


def test_what_cannot_be_made_is_not_kept(shelf):
    def failing():
        raise RuntimeError("no sound")

    with pytest.raises(RuntimeError):
        shelf.get(name(1), failing)
    assert not (shelf.folder / name(1)).exists()
