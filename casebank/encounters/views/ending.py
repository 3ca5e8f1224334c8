"""Committing to a conclusion, and the debrief that it opens."""

from __future__ import annotations

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from casebank.domain.encounter.codec import state_from_json
from casebank.domain.encounter.model import EncounterError
from casebank.encounters import actions, queries
from casebank.encounters.debriefing.queries import debrief_for
from casebank.encounters.forms import ConclusionForm, bars_of, probabilities_from
from casebank.encounters.models import Encounter
from casebank.encounters.pdf import pdf_of
from casebank.encounters.policies import may_see_debrief
from casebank.encounters.views.access import person, practising
from casebank.encounters.views.debrief_page import debrief_page


@require_http_methods(["GET", "POST"])
@practising
def conclude(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The form of the conclusion; once committed, the debrief."""
    encounter = queries.encounter_for(person(request), pk)
    if encounter.concluded_at is not None:
        return redirect("encounters:debrief", pk=pk)
    committing = request.method == "POST" and "name" not in request.POST
    form = ConclusionForm(request.POST if committing else None, initial=request.POST.dict())
    if committing and form.is_valid() and _committed(request, encounter, form):
        return redirect("encounters:debrief", pk=pk)
    context = {
        "form": form,
        "encounter": encounter,
        "hypotheses": _bars(request, encounter),
        "suggest_url": reverse("encounters:suggest-diagnoses"),
        "crumbs": [
            ("Patients", reverse("encounters:patients")),
            ("The sheet", reverse("encounters:sheet", args=[pk])),
            ("Conclude", ""),
        ],
    }
    return render(request, "encounters/conclude.html", context, status=422 if committing else 200)


def _committed(request: HttpRequest, encounter: Encounter, form: ConclusionForm) -> bool:
    catalogue = queries.case_of(encounter).catalogue
    try:
        actions.conclude(
            encounter_id=encounter.pk,
            probabilities=probabilities_from(request.POST, catalogue),
            summary=form.cleaned_data["summary"],
            plan=form.cleaned_data["plan"],
            by=person(request),
            key=actions.form_key(0, "conclusion"),
        )
    except EncounterError as error:
        form.add_error(None, str(error))
        return False
    return True


def _bars(request: HttpRequest, encounter: Encounter) -> list[object]:
    """What was typed, if anything was, else the working differential."""
    catalogue = queries.case_of(encounter).catalogue
    if request.method != "POST":
        return list(bars_of(state_from_json(encounter.live).differential, catalogue))
    try:
        return list(bars_of(probabilities_from(request.POST, catalogue), catalogue))
    except EncounterError:
        return list(bars_of(state_from_json(encounter.live).differential, catalogue))


@require_GET
@practising
def debrief(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Marks explained entry by entry; before the conclusion, the way back to the sheet."""
    encounter = debrief_for(person(request), pk)
    if not may_see_debrief(encounter):
        return redirect("encounters:sheet", pk=pk)
    return debrief_page(request, encounter)


@require_GET
@practising
def debrief_pdf(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The same as a document to keep; byte for byte the same while nothing is added to it."""
    encounter = debrief_for(person(request), pk)
    if not may_see_debrief(encounter):
        return redirect("encounters:sheet", pk=pk)
    answer = HttpResponse(pdf_of(encounter), content_type="application/pdf")
    answer["Content-Disposition"] = f'attachment; filename="debrief-{encounter.pk}.pdf"'
    answer["Cache-Control"] = "private, no-store"
    return answer
