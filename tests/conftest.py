"""The ground every test stands on: an embedded server, a quiet queue, and no silent skip.

One server serves the whole run: xdist's controller starts it before its workers; without xdist
it starts at the first test that wants a database. ``DATABASE_URL`` names another one instead.
"""

from __future__ import annotations

import contextlib
import os
import shutil
from collections.abc import Callable, Generator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from casebank.core.server.address import embedded_database, is_embedded
from casebank.core.server.embedded import ONLY_FOR_TESTS, EmbeddedServer
from casebank.core.server.place import place_for

RUNS = Path(__file__).parent.parent / "var" / "tests"
SERVER = pytest.StashKey[EmbeddedServer]()
# No test asserts seconds: on a busy machine the first example of a property can take them all.
settings.register_profile("unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("unhurried")


def pytest_configure(config: pytest.Config) -> None:
    """Prepare settings for tests, and the server when xdist will need it."""
    config.addinivalue_line("filterwarnings", "ignore:No directory at:UserWarning")
    _quieten_site()
    is_controller = getattr(config.option, "numprocesses", None) and not _is_xdist_worker()
    if is_controller and is_embedded() and not config.option.collectonly:
        _start_server(config)


def pytest_unconfigure(config: pytest.Config) -> None:
    """Stop the server and leave nothing behind."""
    server = config.stash.get(SERVER, None)
    if server is not None:
        server.stop()
        _remove(server.var)


@pytest.fixture(scope="session")
def django_db_modify_db_settings(
    django_db_modify_db_settings_parallel_suffix: None, pytestconfig: pytest.Config
) -> None:
    """Start the server for a run without xdist, and point Django at it."""
    if not is_embedded() or _is_xdist_worker():
        return
    if SERVER not in pytestconfig.stash:
        _start_server(pytestconfig)
    from django.db import connections

    connections["default"].settings_dict.update(embedded_database(pytestconfig.stash[SERVER].var))
    connections["default"].settings_dict["NAME"] = "casebank"


@pytest.fixture
def run_jobs(db: None) -> Callable[[], int]:
    """Do in this process what a worker would: run every waiting job, say how many."""

    def run_waiting() -> int:
        from casebank.core.jobs.running import run
        from casebank.core.models import Job

        waiting = Job.objects.filter(state="queued").order_by("created_at")
        return sum(run(pk) for pk in list(waiting.values_list("pk", flat=True)))

    return run_waiting


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, Any, Any]:
    """Where skips are forbidden, a skipped test has failed."""
    report = yield
    return _without_skip(report)


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, Any, Any]:
    """The same for whole files."""
    report = yield
    return _without_skip(report)


def _without_skip(report: Any) -> Any:
    is_expected = hasattr(report, "wasxfail")
    if os.environ.get("CASEBANK_FORBID_SKIPS") and report.skipped and not is_expected:
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
        report.outcome = "failed"
        report.longrepr = f"A skip where skips are forbidden. {reason}"
    return report


def _quieten_site() -> None:
    """Fast passwords, and a queue nobody reads: tests run jobs themselves."""
    from django.conf import settings

    from casebank.celery import app

    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    app.conf.update(broker_url="memory://", broker_transport_options={})


def _is_xdist_worker() -> bool:
    return "PYTEST_XDIST_WORKER" in os.environ


def _start_server(config: pytest.Config) -> None:
    _remove_what_killed_runs_left()
    server = EmbeddedServer(RUNS / str(os.getpid()), settings=ONLY_FOR_TESTS)
    server.start()
    config.stash[SERVER] = server
    os.environ["CASEBANK_VAR"] = str(server.var)  # for xdist's workers, which start after this


def _remove_what_killed_runs_left() -> None:
    for folder in RUNS.glob("[0-9]*"):
        if not Path("/proc", folder.name).exists():
            _remove(folder)


def _remove(var: Path) -> None:
    place = place_for(var)
    for folder in (place.sockets, place.root, var):
        shutil.rmtree(folder, ignore_errors=True)
    with contextlib.suppress(OSError):
        RUNS.rmdir()
