"""One request at a bed against the floor view: queries, latency and requests a second as ratios.

Starts its own server in a scratch folder, then gunicorn with 2 workers x 3 threads for the site
and for the floor in turn, 50 connections each, three rounds; medians are compared within the run.
"""

from __future__ import annotations

import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROUNDS, SECONDS, CONNECTIONS = 3, 6.0, 50
GOAL = 0.7
PORT = 8399
PHRASINGS = Path(__file__).parents[1] / "tests" / "evaluation" / "phrasings"


def texts() -> list[str]:
    """Requests in students' words that are understood as one step; far more than are repeated."""
    from casebank.core.fixtures import load_catalogue, load_resolver

    resolver, steps = load_resolver(), load_catalogue().steps
    said = [
        entry["text"]
        for path in sorted(PHRASINGS.rglob("*.toml"))
        for entry in tomllib.loads(path.read_text("utf-8"))["phrasing"]
        if not entry.get("after") and len(entry["text"]) < 200
    ]
    found = ((text, resolver.resolve(text).requests) for text in said)
    plain = [text for text, asked in found if len(asked) == 1 and not steps[asked[0].step].parts]
    random.Random(7).shuffle(plain)
    return plain


def main() -> int:
    """Print the table; 1 where the goal is missed."""
    with _site():
        from bench.beds import beds, students

        queries, said = _queries(), texts()
        people = {name: students(CONNECTIONS, name) for name in ("floor", "bed")}
        found: dict[str, list] = {"floor": [], "bed": []}
        for _ in range(ROUNDS):
            for name, rows in found.items():
                rows.append(_measure(name, beds(people[name], name), said))
        return _report(found, queries)


@contextmanager
def _site() -> Iterator[None]:
    """A scratch database with the demo's cases."""
    with tempfile.TemporaryDirectory(prefix="cb-") as folder:
        os.environ |= {"CASEBANK_VAR": folder, "DJANGO_SETTINGS_MODULE": "casebank.settings"}
        Path(folder).chmod(0o755)
        import django
        from django.core.management import call_command

        from casebank.core.server.embedded import EmbeddedServer

        server = EmbeddedServer(Path(folder))
        server.start()
        try:
            django.setup()
            call_command("migrate", verbosity=0)
            call_command("createcachetable", verbosity=0)
            call_command("load_catalogue", verbosity=0)
            from casebank.demo import actions

            actions.load_people()
            actions.load_cases()
            yield
        finally:
            server.stop()


def _queries() -> int:
    """Queries of one request, BEGIN and COMMIT left out."""
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    from bench.beds import beds, students

    [bed] = beds(students(1, "bed"), "bed")
    client = Client(SERVER_NAME="localhost")
    client.cookies["sessionid"] = bed.cookie.split(";")[0].split("=")[1]
    path = f"/patients/at/{bed.encounter}/ask"
    for after, text in enumerate(("wash my hands", "feel the radial pulse")):
        with CaptureQueriesContext(
            connection,
        ) as captured:
            answer = client.post(
                path, {"text": text, "after": after}, headers={"HX-Request": "true"}
            )
            assert answer.status_code == 200, answer.status_code
    control = ("BEGIN", "COMMIT", "SAVEPOINT", "RELEASE")
    return sum(not q["sql"].startswith(control) for q in captured.captured_queries)


def _measure(name: str, places: list, said: list[str]) -> object:
    from bench.load import run

    with _gunicorn(name) as master:

        def say(connection: int, turn: int) -> bytes:
            bed = places[connection]
            fields = {
                "text": said[(turn * CONNECTIONS + connection) % len(said)],
                "after": str(turn),
            }
            path = (
                f"/floor/{bed.encounter}"
                if name == "floor"
                else (f"/patients/at/{bed.encounter}/ask")
            )
            return bed.post(path, **fields)

        run(PORT, say, 4, 1.0)  # both processes have read what they need
        warm = dict.fromkeys(range(CONNECTIONS), 1000)
        before = _processor_seconds(master)
        load = run(PORT, lambda c, t: say(c, t + warm[c]), CONNECTIONS, SECONDS)
        spent = _processor_seconds(master) - before
        return load, 1000 * spent / (load.rate * SECONDS)


def _processor_seconds(master: int) -> float:
    """Processor time of gunicorn's workers so far; other programs do not change it."""
    ticks = 0
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        if int(fields[1]) == master:
            ticks += int(fields[11]) + int(fields[12])
    return ticks / os.sysconf("SC_CLK_TCK")


@contextmanager
def _gunicorn(name: str) -> Iterator[int]:
    app = "bench.floor_wsgi:application" if name == "floor" else "casebank.wsgi:application"
    settings = "bench.floor_settings" if name == "floor" else "casebank.settings"
    command = [
        sys.executable, "-m", "gunicorn", app, "--bind", f"127.0.0.1:{PORT}", "--worker-class",
        "gthread", "--workers", "2", "--threads", "3", "--preload", "--log-level", "warning",
    ]  # fmt: skip
    environment = {**os.environ, "DJANGO_SETTINGS_MODULE": settings}
    process = subprocess.Popen(command, env=environment)
    try:
        _wait()
        yield process.pid
    finally:
        process.terminate()
        process.wait(20)


def _wait() -> None:
    import socket

    for _ in range(300):
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", PORT)) == 0:
                time.sleep(0.5)
                return
        time.sleep(0.1)
    raise RuntimeError("gunicorn did not start")


def _report(found: dict[str, list], queries: int) -> int:
    rates = {n: statistics.median(load.rate for load, _ in rows) for n, rows in found.items()}
    work = {n: statistics.median(cpu for _, cpu in rows) for n, rows in found.items()}
    print(f"queries of one request: {queries} (limit 7)")
    for name, rows in found.items():
        loads = [load for load, _ in rows]
        print(
            f"{name:>6}: {rates[name]:7.1f} requests/s, median "
            f"{statistics.median(one.median for one in loads):6.1f} ms, p95 "
            f"{statistics.median(one.p95 for one in loads):6.1f} ms, processor "
            f"{work[name]:5.2f} ms, errors {sum(one.errors for one in loads)}, "
            f"answer {loads[-1].size} bytes"
        )
    ratio = rates["bed"] / rates["floor"]
    print(f"ratio of requests/s, bed to floor: {ratio:.2f} (goal {GOAL})")
    print(f"ratio of processor time, floor to bed: {work['floor'] / work['bed']:.2f}")
    return int(ratio < GOAL or queries > 7)


if __name__ == "__main__":
    raise SystemExit(main())
