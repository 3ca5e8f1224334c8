"""Stores releases of the examination catalogue."""

from __future__ import annotations

from collections.abc import Mapping

from django.db import transaction

from casebank.audit.actions import record
from casebank.cases.models import CatalogueRelease
from casebank.domain.examination.catalogue import parse_catalogue


@transaction.atomic
def load_catalogue(*, texts: Mapping[str, str], by: object = None) -> tuple[CatalogueRelease, bool]:
    """Store this catalogue unless it is stored already; says whether it is new.

    Raises CatalogueError (domain) where the texts contradict themselves.
    """
    catalogue = parse_catalogue(texts)
    release, is_new = CatalogueRelease.objects.get_or_create(
        checksum=catalogue.checksum,
        defaults={"texts": dict(texts), "steps": len(catalogue.steps)},
    )
    if is_new:
        record(name="catalogue_loaded", subject=release, by=by, steps=release.steps)
    return release, is_new
