"""The programs a site is made of, with their arguments."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from casebank.core.supervise.child import Child

WEB_PROCESSES, WEB_THREADS = 2, 3
WORKER_PROCESSES = 2
CELERY = ("-m", "celery", "-A", "casebank.celery:app")


def site_programs(base: Path, var: Path, site_url: str, listening_on: int) -> tuple[Child, ...]:
    """Web on the inherited socket, worker and beat, in the order they start."""
    # For one process (Python) the folder it is started in is where its code is found.
    environment = {**os.environ, "PYTHONPATH": str(base), "PYTHONUNBUFFERED": "1"}
    environment.setdefault("SITE_URL", site_url)
    programs = {"web": _web(listening_on), "worker": _worker(), "beat": _beat()}
    return tuple(
        Child(
            name=name,
            command=(sys.executable, *arguments),
            log=var / "log" / f"{name}.log",
            environment=environment,
            keep_open=(listening_on,) if name == "web" else (),
        )
        for name, arguments in programs.items()
    )


def _web(listening_on: int) -> tuple[str, ...]:
    return (
        "-m", "gunicorn", "casebank.wsgi:application", "--bind", f"fd://{listening_on}",
        "--worker-class", "gthread", "--workers", str(WEB_PROCESSES),
        "--threads", str(WEB_THREADS), "--preload", "--graceful-timeout", "5",
        "--no-control-socket", "--access-logfile", "-",
    )  # fmt: skip


def _worker() -> tuple[str, ...]:
    # Gossip and mingle talk over remote control, which this transport does not carry.
    return (
        *CELERY, "worker", "--hostname", "w1@casebank", "--concurrency", str(WORKER_PROCESSES),
        "--without-gossip", "--without-mingle", "--loglevel", "INFO",
    )  # fmt: skip


def _beat() -> tuple[str, ...]:
    # The schedule is short and static: in memory it needs no file that could go stale.
    return (*CELERY, "beat", "--scheduler", "celery.beat:Scheduler", "--pidfile", "")
