"""Where the authors' pages are, and a version as it is stored now."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from casebank.cases.models import CaseVersion


def page(name: str, *args: Any) -> str:
    """The address of a page of cases."""
    return reverse(f"cases:{name}", args=args)


def stored(version: CaseVersion) -> CaseVersion:
    """The version, read anew."""
    return CaseVersion.objects.get(pk=version.pk)
