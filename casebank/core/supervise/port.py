"""The port the site listens on: chosen, checked and taken before anything else starts."""

from __future__ import annotations

import contextlib
import errno
import socket
import time

from casebank.core.server.errors import CannotStartError

DEFAULT = 8000


def chosen_port(option: int | None, variable: str | None) -> int:
    """The port from ``--port``, else from ``PORT``, else 8000."""
    given = str(option) if option is not None else (variable or str(DEFAULT))
    if not given.isdecimal() or not 1 <= int(given) <= 65535:
        raise CannotStartError(f"{given!r} is not a port: choose a number from 1 to 65535.")
    return int(given)


def listening_socket(host: str, port: int, *, patience: float = 3.0) -> socket.socket:
    """A listening socket for the web server to inherit, so that nobody can take the port from it.

    Waits ``patience`` seconds, since a site that was just killed may still be letting go.
    """
    until = time.monotonic() + patience
    while True:
        try:
            return _listen(host, port)
        except OSError as error:
            if error.errno != errno.EADDRINUSE or time.monotonic() > until:
                raise CannotStartError(_sentence(host, port, error)) from error
            time.sleep(0.2)


def _listen(host: str, port: int) -> socket.socket:
    with contextlib.ExitStack() as undo:
        listener = undo.enter_context(socket.socket())
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((host, port))
        listener.listen(2048)
        listener.set_inheritable(True)
        undo.pop_all()
    return listener


def _sentence(host: str, port: int, error: OSError) -> str:
    if error.errno == errno.EADDRINUSE:
        return (
            f"Port {port} is in use: stop the program that uses it, or choose another "
            "with --port or PORT."
        )
    return f"Cannot listen on {host}:{port} ({error.strerror}): choose another port or host."
