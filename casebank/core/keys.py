"""Idempotency keys as they are stored: hashed, so that any length and any characters fit."""

from __future__ import annotations

import hashlib


def stored_key(key: str) -> str:
    """The key's SHA-256 as 64 hexadecimal digits; no key stays empty."""
    return hashlib.sha256(key.encode()).hexdigest() if key else ""
