"""The supervisor: brings a site up, watches it, and takes all of it down again."""

from __future__ import annotations

import contextlib
import os
import signal
import socket
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Sequence
from pathlib import Path

from casebank.core.server.embedded import EmbeddedServer
from casebank.core.supervise.child import Child
from casebank.core.supervise.port import listening_socket
from casebank.core.supervise.programs import site_programs
from casebank.core.supervise.reviver import Reviver

SECONDS_TO_STOP = 10.0
SECONDS_TO_ANSWER = 120.0
LOOK_EVERY = 0.2


class SiteFailedError(Exception):
    """A part of the site ended by itself; the sentence names it and its log."""


class Site:
    """All processes of one site on one machine."""

    def __init__(self, *, base: Path, var: Path, host: str, port: int, embedded: bool) -> None:
        self._base, self._var, self._host, self._port = base, var, host, port
        self._server = EmbeddedServer(var) if embedded else None
        self._children: Sequence[Child] = ()
        self._listener: socket.socket | None = None

    @property
    def url(self) -> str:
        """The address a person opens (localhost, which passkeys accept without TLS)."""
        return os.environ.get("SITE_URL") or f"http://localhost:{self._port}"

    def run(self, prepare: Callable[[], None], when_up: Callable[[], None]) -> None:
        """Start everything, call ``when_up``, and stay until a signal or a death; stop everything.

        Raises CannotStartError before anything runs, SiteFailedError when a part died.
        """
        signal.signal(signal.SIGTERM, _interrupt)
        signal.signal(signal.SIGHUP, _interrupt)
        try:
            self._start(prepare)
            self._await_answer()
            when_up()
            self._watch()
        except KeyboardInterrupt:
            pass
        finally:
            self._stop()

    def _start(self, prepare: Callable[[], None]) -> None:
        listener = self._listener = listening_socket(self._host, self._port)
        if self._server:
            self._server.start()
        prepare()
        programs = site_programs(self._base, self._var, self.url, listener.fileno())
        self._children = programs
        for child in programs:
            child.start()

    def _watch(self) -> None:
        reviver = Reviver(self._children)
        while True:
            self._check()
            reviver.look()
            time.sleep(LOOK_EVERY)

    def _check(self) -> None:
        if self._server and not self._server.is_running():
            raise SiteFailedError(f"PostgreSQL stopped: {self._server.log} says why.")
        for child in self._children:
            code = child.exit_code()
            if code is not None:
                raise SiteFailedError(
                    f"The {child.name} process stopped (code {code}; {child.last_words()}): "
                    f"{child.log} says more."
                )

    def _await_answer(self) -> None:
        host = "127.0.0.1" if self._host in ("", "0.0.0.0") else self._host  # noqa: S104
        until = time.monotonic() + SECONDS_TO_ANSWER
        while not _answers(f"http://{host}:{self._port}/livez"):
            self._check()
            if time.monotonic() > until:
                raise SiteFailedError(f"The web process does not answer: see {self._var / 'log'}.")
            time.sleep(LOOK_EVERY / 2)

    def _stop(self) -> None:
        # A second Ctrl-C must not leave half of it running; the time to stop is bounded.
        for asked in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(asked, signal.SIG_IGN)
        for child in self._children:
            child.ask_to_stop()
        until = time.monotonic() + SECONDS_TO_STOP
        for child in self._children:
            child.end(until)
        if self._server:
            self._server.stop()
        if self._listener:
            self._listener.close()


def _interrupt(number: int, frame: object) -> None:
    raise KeyboardInterrupt


def _answers(url: str) -> bool:
    with contextlib.suppress(urllib.error.HTTPError):
        try:
            urllib.request.urlopen(url, timeout=5).close()  # noqa: S310
        except (urllib.error.URLError, OSError) as error:
            if not isinstance(error, urllib.error.HTTPError):
                return False
            raise
    return True
