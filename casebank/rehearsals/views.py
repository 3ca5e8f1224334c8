"""Pages of rehearsals: start one, follow it, read what came of it."""

from __future__ import annotations

from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from casebank.cases.errors import NotFit, Refused
from casebank.cases.policies import may_rehearse
from casebank.cases.queries import own_version_for
from casebank.cases.views.access import for_authors, person
from casebank.cases.views.version import crumbs_to
from casebank.rehearsals import actions, queries
from casebank.rehearsals.models import Rehearsal
from casebank.rehearsals.presenting import SIMULATED, page_of


@require_POST
@for_authors
def start(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Start a rehearsal of the version as it stands, or go to the one there is."""
    version = own_version_for(person(request), pk)
    try:
        found = actions.rehearse(version=version, by=person(request))
    except (Refused, NotFit) as error:
        messages.error(request, str(error))
        return redirect("cases:version", pk)
    return redirect("rehearsals:rehearsal", found.pk)


@require_GET
@for_authors
def rehearsal(request: HttpRequest, pk: UUID) -> HttpResponse:
    """What came of it, or how far it is."""
    found = queries.rehearsal_for(person(request), pk)
    if request.headers.get("HX-Request"):
        return _progress(request, found)
    context = {
        "rehearsal": found,
        "version": found.version,
        "crumbs": crumbs_to(found.version, "Rehearsal"),
        "simulated": SIMULATED,
        "may_rehearse": may_rehearse(person(request), found.version),
        "is_older": queries.is_of_older_text(found),
        **({"result": found.result, **page_of(found.result)} if found.result else {}),
    }
    return render(request, "rehearsals/rehearsal.html", context)


def _progress(request: HttpRequest, found: Rehearsal) -> HttpResponse:
    """How far the job is; once it is done the page is loaded anew."""
    if found.result is not None:
        return HttpResponse(headers={"HX-Refresh": "true"})
    context = {
        "rehearsal": found,
        "version": found.version,
        "may_rehearse": may_rehearse(person(request), found.version),
    }
    return render(request, "rehearsals/_waiting.html", context)
