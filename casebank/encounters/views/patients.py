"""The list of patients, beginning with one, and suggestions that know no case."""

from __future__ import annotations

from uuid import UUID

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from accounts.permissions import Permission
from casebank.cases.library import catalogue_of, current_release, resolver_for
from casebank.domain.examination.diagnoses import suggest_diagnoses
from casebank.encounters import actions, queries
from casebank.encounters.views.access import person, practising


@require_GET
@practising
def patients(request: HttpRequest) -> HttpResponse:
    """All published patients with where this person stands with each."""
    rows = queries.patients_for(person(request))
    teaches = person(request).may(Permission.REPORT_OWN_COHORTS)
    return render(request, "encounters/patients.html", {"patients": rows, "teaches": teaches})


@require_POST
@practising
def begin(request: HttpRequest, version: UUID) -> HttpResponse:
    """Open the sheet of a new encounter, or of the one already open."""
    cued = request.POST.get("mode", "cued") != "uncued"
    found = queries.published_version(version)
    encounter = actions.begin(version=found, by=person(request), cued=cued)
    return redirect("encounters:sheet", pk=encounter.pk)


@require_GET
@practising
def suggest_steps(request: HttpRequest) -> HttpResponse:
    """Type-ahead for the request line, from the catalogue alone."""
    catalogue = catalogue_of(current_release().pk)
    found = resolver_for(catalogue).suggest(request.GET.get("q", "")[:100], limit=8)
    rows = [{"text": one.text, "hint": catalogue.steps[one.step].label} for one in found]
    return JsonResponse({"suggestions": rows})


@require_GET
@practising
def suggest_diagnosis(request: HttpRequest) -> HttpResponse:
    """Type-ahead for the differential, from the shared list alone."""
    catalogue = catalogue_of(current_release().pk)
    found = suggest_diagnoses(request.GET.get("q", "")[:100], catalogue)
    return JsonResponse({"suggestions": [{"text": one.label, "hint": ""} for one in found]})
