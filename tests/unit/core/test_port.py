"""The port is checked before anything starts, and a busy one is said in one sentence."""

from __future__ import annotations

import socket

import pytest

from casebank.core.server.errors import CannotStartError
from casebank.core.supervise.port import chosen_port, listening_socket


def test_the_option_wins_over_the_variable_and_that_over_8000():
    assert chosen_port(9001, "9002") == 9001
    assert chosen_port(None, "9002") == 9002
    assert chosen_port(None, None) == chosen_port(None, "") == 8000


@pytest.mark.parametrize("given", ["0", "65536", "http", "-1", "8000.5"])
def test_what_is_no_port_is_refused_with_the_range(given):
    with pytest.raises(CannotStartError, match="from 1 to 65535"):
        chosen_port(None, given)


def test_a_busy_port_is_named_with_the_way_out():
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]
        with pytest.raises(CannotStartError, match=rf"^Port {port} is in use: .*--port.*\.$"):
            listening_socket("127.0.0.1", port, patience=0)


def test_a_port_let_go_while_we_wait_is_taken():
    other = socket.create_server(("127.0.0.1", 0))
    port = other.getsockname()[1]
    other.close()
    with listening_socket("127.0.0.1", port) as taken:
        assert taken.getsockname()[1] == port
        assert taken.get_inheritable()
