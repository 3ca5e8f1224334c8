"""Reads of rehearsals for the authors whose cases they are of."""

from __future__ import annotations

from uuid import UUID

from django.db.models import F
from django.http import Http404

from accounts.models import User
from casebank.cases.policies import own_versions
from casebank.rehearsals.models import Rehearsal


def rehearsal_for(user: User, pk: UUID) -> Rehearsal:
    """A rehearsal of a version this person writes; Http404 for any other, as for none."""
    found = (
        Rehearsal.objects.filter(pk=pk, version__in=own_versions(user))
        .select_related("version", "job")
        .defer("document", "version__document")
        .first()
    )
    if found is None:
        raise Http404
    return found


def is_of_older_text(rehearsal: Rehearsal) -> bool:
    """Whether the version's document has changed since the rehearsal was asked for."""
    same = Rehearsal.objects.filter(pk=rehearsal.pk, document=F("version__document"))
    return not same.exists()
