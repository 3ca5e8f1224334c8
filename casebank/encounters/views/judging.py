"""Tutors' pages: a cohort's concluded encounters, comments and adjustments on a debrief."""

from __future__ import annotations

from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from accounts.models import Cohort
from accounts.permissions import Permission
from casebank.encounters import actions
from casebank.encounters.debriefing import actions as debrief_actions
from casebank.encounters.debriefing import queries as debriefs
from casebank.encounters.debriefing.actions import EntryMissingError
from casebank.encounters.debriefing.forms import AdjustmentForm, CommentForm
from casebank.encounters.models import Encounter
from casebank.encounters.views.access import person, practising
from casebank.encounters.views.debrief_page import debrief_page

A_PAGE = 30


@require_GET
@practising
def concluded(request: HttpRequest) -> HttpResponse:
    """The concluded encounters of one of the cohorts one teaches."""
    if not person(request).may(Permission.REPORT_OWN_COHORTS):
        raise PermissionDenied("Concluded encounters of a cohort are for its tutors.")
    cohorts = debriefs.cohorts_for(person(request))
    cohort = _chosen(cohorts, request.GET.get("cohort", ""))
    rows = debriefs.concluded_in(person(request), cohort) if cohort else Encounter.objects.none()
    context = {
        "cohorts": cohorts,
        "cohort": cohort,
        "page": Paginator(rows, A_PAGE).get_page(request.GET.get("page")),
        "crumbs": [("Patients", reverse("encounters:patients")), ("Concluded encounters", "")],
    }
    return render(request, "encounters/debrief_list.html", context)


def _chosen(cohorts: list[Cohort], slug: str) -> Cohort | None:
    if not slug:
        return cohorts[0] if cohorts else None
    found = next((cohort for cohort in cohorts if cohort.slug == slug), None)
    if found is None:
        raise Http404
    return found


@require_POST
@practising
def comment(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Add a comment; what cannot be accepted comes back with the page."""
    encounter = debriefs.judged_by(person(request), pk)
    form = CommentForm(request.POST)
    if form.is_valid() and _commented(request, encounter, form):
        return redirect(f"{reverse('encounters:debrief', args=[pk])}#comments")
    return debrief_page(request, encounter, comment=form, status=422)


def _commented(request: HttpRequest, encounter: Encounter, form: CommentForm) -> bool:
    data = form.cleaned_data
    try:
        debrief_actions.comment(
            encounter=encounter,
            text=data["text"],
            entry_seq=data["entry"],
            by=person(request),
            key=actions.form_key(0, f"comment {data['position']}"),
        )
    except EntryMissingError as error:
        form.add_error("entry", str(error))
        return False
    return True


@require_POST
@practising
def adjust(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Put a total beside the computed mark."""
    encounter = debriefs.judged_by(person(request), pk)
    form = AdjustmentForm(request.POST)
    if not form.is_valid():
        return debrief_page(request, encounter, adjustment=form, status=422)
    data = form.cleaned_data
    debrief_actions.adjust(
        encounter=encounter,
        total=data["total"],
        reason=data["reason"],
        by=person(request),
        key=actions.form_key(0, f"adjustment {data['position']}"),
    )
    return redirect(f"{reverse('encounters:debrief', args=[pk])}#mark")
