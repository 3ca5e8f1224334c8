"""The one error that ends a start: a sentence for the person at the keyboard."""

from __future__ import annotations


class CannotStartError(Exception):
    """Why the site cannot start and what to do, in one sentence; no traceback is shown for it."""
