"""Pages of cohort reports."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, cast
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from accounts.models import User
from accounts.permissions import Permission
from casebank.analytics import actions, queries
from casebank.analytics.models import CohortReport
from casebank.analytics.presenting import csv_of, facility_chart
from casebank.core.http.refusal import refusal

View = Callable[..., HttpResponse]
REPORTING = {Permission.REPORT_OWN_COHORTS, Permission.REPORT_ALL_COHORTS}


def reporting(view: View) -> View:
    """Tutors and coordinators only."""

    @wraps(view)
    @login_required
    def checked(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not REPORTING & _person(request).permissions:
            raise refusal("Cohort reports are for tutors and coordinators.", kwargs)
        return view(request, *args, **kwargs)

    return cast("View", checked)


def _person(request: HttpRequest) -> User:
    return cast("User", request.user)


@require_GET
@reporting
def reports(request: HttpRequest) -> HttpResponse:
    """The cohorts one may ask about, and the reports there are."""
    user = _person(request)
    context = {"cohorts": queries.cohorts_for(user), "reports": queries.reports_for(user)[:50]}
    return render(request, "analytics/reports.html", context)


@require_POST
@reporting
def ask(request: HttpRequest, slug: str) -> HttpResponse:
    """Ask for a report."""
    cohort = queries.cohort_for(_person(request), slug)
    found = actions.ask_for_report(cohort=cohort, by=_person(request))
    return redirect("analytics:report", pk=found.pk)


@require_GET
@reporting
def report(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The report, or how far it is."""
    found = queries.report_for(_person(request), pk)
    if request.headers.get("HX-Request"):
        return _progress(request, found)
    cases = (found.result or {}).get("cases", [])
    shown = [
        {**case, "chart": None if case["hidden"] else facility_chart(case, place)}
        for place, case in enumerate(cases)
    ]
    context = {"report": found, "cases": shown, "across": (found.result or {}).get("across")}
    return render(request, "analytics/report.html", context)


def _progress(request: HttpRequest, found: CohortReport) -> HttpResponse:
    """How far the job is; once it is done the page is loaded anew."""
    if found.result is not None:
        return HttpResponse(headers={"HX-Refresh": "true"})
    return render(request, "analytics/_waiting.html", {"report": found})


@require_GET
@reporting
def report_csv(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The report as CSV."""
    found = queries.report_for(_person(request), pk)
    if found.result is None:
        return redirect("analytics:report", pk=pk)
    name = f"casebank-{found.cohort.slug}-{found.cutoff:%Y-%m-%d}.csv"
    return HttpResponse(
        csv_of(found.result),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )
