"""Where the embedded server lives: short sockets, one answer for every process."""

from __future__ import annotations

import os
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from casebank.core.server.place import LONGEST_SOCKET_FOLDER, may_others_reach, place_for

NAMES = st.text(st.characters(exclude_characters="/\0", exclude_categories=["Cs"]), min_size=1)


@given(st.lists(NAMES.filter(lambda name: name not in (".", "..")), min_size=1, max_size=6))
def test_no_folder_makes_the_socket_path_too_long(names):
    place = place_for(Path("/nowhere").joinpath(*(name[:40] for name in names)))
    assert len(os.fsencode(place.sockets)) < LONGEST_SOCKET_FOLDER


def test_a_short_path_keeps_the_socket_beside_the_data():
    place = place_for(Path("/srv/casebank/var"))
    assert place.sockets.parent == place.root
    assert not place.is_socket_apart


def test_a_long_path_moves_only_the_socket():
    place = place_for(Path("/srv") / ("long" * 25) / "var")
    assert place.is_socket_apart
    assert place.sockets.parent == Path("/tmp")  # noqa: S108


def test_two_sites_never_share_a_socket():
    deep = Path("/srv") / ("long" * 25)
    assert place_for(deep / "a").sockets != place_for(deep / "b").sockets


def test_a_closed_folder_on_the_way_is_seen_and_left_closed(tmp_path):
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o700)
    assert not may_others_reach(closed / "var")
    assert closed.stat().st_mode & 0o777 == 0o700


def test_only_root_moves_its_data_out_of_a_closed_folder(tmp_path):
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o700)
    root = place_for(closed / "var").root
    assert (root == closed / "var" / "pg") == (os.geteuid() != 0)


def test_data_that_is_there_is_never_looked_for_elsewhere(tmp_path):
    closed = tmp_path / "closed"
    (closed / "var" / "pg" / "data").mkdir(parents=True)
    closed.chmod(0o700)
    assert place_for(closed / "var").root == closed / "var" / "pg"
