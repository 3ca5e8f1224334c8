"""How the site logs: one JSON line an event on stderr; no query strings, no names of people."""

from __future__ import annotations

from typing import Any

import structlog

SHARED: list[Any] = [
    structlog.contextvars.merge_contextvars,
    structlog.stdlib.add_logger_name,
    structlog.stdlib.add_log_level,
    structlog.processors.TimeStamper(fmt="iso", utc=True),
]


def without_query(logger: Any, method: str, event: dict[str, Any]) -> dict[str, Any]:
    """Drop the request object and cut what stands behind a question mark in an address."""
    event.pop("request", None)
    text = event.get("event")
    if isinstance(text, str) and "?" in text:
        event["event"] = text.split("?", 1)[0]
    return event


def logging_config(level: str) -> dict[str, Any]:
    """The LOGGING setting."""
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {
            "json": {
                "()": structlog.stdlib.ProcessorFormatter,
                "foreign_pre_chain": SHARED,
                "processors": [
                    structlog.stdlib.ProcessorFormatter.remove_processors_meta,
                    without_query,
                    structlog.processors.format_exc_info,
                    structlog.processors.JSONRenderer(),
                ],
            }
        },
        "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "json"}},
        "root": {"handlers": ["stderr"], "level": level},
        "loggers": {"django": {"handlers": [], "level": level, "propagate": True}},
    }
