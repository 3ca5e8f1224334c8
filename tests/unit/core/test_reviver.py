"""Silent children are really started again, with a word in the log; ending ones never."""

from __future__ import annotations

import logging
import sys
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from casebank.core.supervise import reviver as module
from casebank.core.supervise.child import Child
from casebank.core.supervise.reviver import Reviver
from casebank.core.supervise.vigil import GRACE

LIMIT = 120
DEAF = "import signal, time; signal.signal(signal.SIGTERM, signal.SIG_IGN); time.sleep(60)"


class World:
    """A clock that is set, signs that are given, and two real children."""

    def __init__(self, folder: Path) -> None:
        self.now = 0.0
        self.signs: dict[str, datetime] | None = {}
        self.children = [
            Child(name=name, command=(sys.executable, "-c", DEAF), log=folder / f"{name}.log",
                  environment={})
            for name in ("web", "worker", "beat")
        ]  # fmt: skip
        for child in self.children:
            child.start()
        self.reviver = Reviver(self.children, read_signs=lambda: self.signs, clock=lambda: self.now)

    def pass_time(self, *, to: float, alive: tuple[str, ...]) -> None:
        """Look every six seconds, with those alive leaving signs."""
        while self.now < to:
            self.now += 6
            fresh = datetime.fromtimestamp(1e9 + self.now, UTC)
            self.signs = {**(self.signs or {}), **dict.fromkeys(alive, fresh)}
            self.reviver.look()

    def processes(self) -> dict[str, int]:
        """The process number of each child."""
        return {child.name: child._process.pid for child in self.children if child._process}


@pytest.fixture
def world(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[World]:
    monkeypatch.setattr(module, "SECONDS_TO_STOP", 0.1)
    built = World(tmp_path)
    yield built
    for child in built.children:
        child.end(time.monotonic())


def test_a_silent_worker_is_started_again_even_if_deaf_and_the_log_says_so(world, caplog):
    world.pass_time(to=60, alive=("beat", "worker"))
    before = world.processes()
    with caplog.at_level(logging.WARNING):
        world.pass_time(to=60 + LIMIT + 12, alive=("beat",))
    after = world.processes()
    assert after["worker"] != before["worker"]
    assert not Path("/proc", str(before["worker"])).exists()
    assert [after["web"], after["beat"]] == [before["web"], before["beat"]]
    (said,) = caplog.messages
    assert said.startswith("The worker showed no life for 126 s and was started again (1 in a row")


def test_a_silent_beat_is_started_again_and_the_worker_left_alone(world):
    world.pass_time(to=60, alive=("beat", "worker"))
    before = world.processes()
    world.pass_time(to=60 + LIMIT + 12, alive=())
    after = world.processes()
    assert after["beat"] != before["beat"]
    assert after["worker"] == before["worker"]


def test_nobody_is_started_again_while_the_signs_cannot_be_read(world):
    world.pass_time(to=60, alive=("beat", "worker"))
    before = world.processes()
    for world.now in range(60, 6000, 60):
        world.signs = None
        world.reviver.look()
    assert world.processes() == before


def test_a_site_that_is_told_to_end_meanwhile_starts_nothing_more(world, monkeypatch):
    world.pass_time(to=60, alive=("beat", "worker"))
    before = world.processes()

    def told_to_end(child: Child, until: float) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(Child, "end", told_to_end)
        with pytest.raises(KeyboardInterrupt):
            world.pass_time(to=60 + LIMIT + 12, alive=("beat",))
    assert world.processes() == before


def test_a_start_is_given_its_grace(world):
    before = world.processes()
    world.pass_time(to=LIMIT + GRACE - 6, alive=("beat",))
    assert world.processes() == before
