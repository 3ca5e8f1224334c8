"""One's own progress, and one's own record to take away."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET

from casebank.encounters.debriefing.marks import DOMAIN_WORDS
from casebank.encounters.progress import progress_of
from casebank.encounters.progress.export import csv_of, record_of
from casebank.encounters.views.access import person, practising


@require_GET
@practising
def progress(request: HttpRequest) -> HttpResponse:
    """Marks, calibration and what to practise next, of the signed-in person alone."""
    context = {
        "progress": progress_of(person(request), timezone.localdate()),
        "domain_names": [words.split(":")[0] for words in DOMAIN_WORDS.values()],
        "crumbs": [("Patients", reverse("encounters:patients")), ("Your progress", "")],
    }
    return render(request, "encounters/progress.html", context)


@require_GET
@practising
def record_json(request: HttpRequest) -> HttpResponse:
    """The whole record as JSON."""
    answer = JsonResponse(record_of(person(request)), json_dumps_params={"ensure_ascii": False})
    return _to_keep(answer, "casebank-record.json")


@require_GET
@practising
def record_csv(request: HttpRequest) -> HttpResponse:
    """The marks as CSV."""
    answer = HttpResponse(csv_of(person(request)), content_type="text/csv; charset=utf-8")
    return _to_keep(answer, "casebank-record.csv")


def _to_keep(answer: HttpResponse, name: str) -> HttpResponse:
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    answer["Cache-Control"] = "private, no-store"
    return answer
