"""How a page refuses: like a thing that does not exist, wherever its address names a thing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404


def refusal(reason: str, named: Mapping[str, Any]) -> Exception:
    """What to raise for a person whose roles do not open a page; ``named``: the address's parts.

    A page that names nothing says 403 with the reason; one that names a thing says 404, so that
    nobody learns whether the thing is there. The API's problem handler does the same.
    """
    return Http404(reason) if named else PermissionDenied(reason)
