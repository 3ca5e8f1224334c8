"""The author's page of figures on an own case."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from casebank.analytics.own_cases.figures import figures_of
from casebank.analytics.own_cases.queries import figured_version
from casebank.analytics.presenting import facility_chart
from casebank.cases.queries import own_version_for
from casebank.cases.views.access import for_authors, person
from casebank.cases.views.version import crumbs_to
from casebank.core.charts.bars import Bar, BarChart, bar_chart


@require_GET
@for_authors
def figures(request: HttpRequest, pk: UUID) -> HttpResponse:
    """How students fared with a version once published."""
    user = person(request)
    version = figured_version(user, own_version_for(user, pk))
    found = figures_of(version.pk)
    context = {
        "version": version,
        "crumbs": crumbs_to(version, "How students fared"),
        "case": found | ({} if found["hidden"] else {"chart": facility_chart(found, 0)}),
        "marks": None if found["hidden"] else marks_chart(found),
    }
    return render(request, "own_cases/figures.html", context)


def marks_chart(found: dict[str, Any]) -> BarChart:
    """How many students have a mark in each band."""
    bars = [Bar(_band_label(band["low"], band["high"]), band["persons"]) for band in found["bands"]]
    return bar_chart(
        bars,
        slug="marks",
        title="Students by their mark",
        measure="Students",
        decimals=0,
    )


def _band_label(low: int, high: int) -> str:
    return f"{low} to 100" if high == 100 else f"{low} to under {high}"
