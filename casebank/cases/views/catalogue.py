"""The examination catalogue to read: by system, by region, by words, step by step.

The same for everybody who may see it; nothing here depends on a case.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET

from accounts.models import User
from casebank.cases.catalogue_search import names_found
from casebank.cases.errors import NoCatalogue
from casebank.cases.policies import may_read_catalogue
from casebank.cases.queries import newest_catalogue
from casebank.cases.step_words import in_words
from casebank.domain.examination import browse, news2, news2_chart
from casebank.domain.examination.model import Catalogue, Step

View = Callable[..., HttpResponse]
OBSERVATIONS = "observations"
"""The composite beside which the early-warning chart is shown."""
TITLE = "Steps"


def reading(view: View) -> View:
    """Only for people who examine, write or review; gives the view the newest catalogue."""

    @wraps(view)
    @login_required
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        verdict = may_read_catalogue(cast("User", request.user))
        if not verdict:
            raise PermissionDenied(verdict.reason)
        try:
            return view(request, newest_catalogue(), *args, **kwargs)
        except NoCatalogue as error:
            return render(request, "cases/no_catalogue.html", {"reason": str(error)}, status=503)

    return guarded


@require_GET
@reading
def index(request: HttpRequest, catalogue: Catalogue) -> HttpResponse:
    """Systems and regions with their counts, and a search by words."""
    words = request.GET.get("q", "").replace("\0", "").strip()[:100]
    context = {
        "words": words,
        "found": names_found(catalogue, words) if words else (),
        "systems": browse.systems(catalogue),
        "regions": browse.regions(catalogue),
        "count": len(catalogue.steps),
    }
    return render(request, "catalogue/index.html", context)


@require_GET
@reading
def system(request: HttpRequest, catalogue: Catalogue, slug: str) -> HttpResponse:
    """The steps of one system; ``?in=full`` is the whole of it for paper."""
    return _shelf(request, catalogue, browse.of_system(catalogue, slug), "system")


@require_GET
@reading
def region(request: HttpRequest, catalogue: Catalogue, slug: str) -> HttpResponse:
    """The steps of one region; ``?in=full`` is the whole of it for paper."""
    return _shelf(request, catalogue, browse.of_region(catalogue, slug), "region")


def _shelf(
    request: HttpRequest, catalogue: Catalogue, steps: tuple[Step, ...], kind: str
) -> HttpResponse:
    if not steps:
        raise Http404
    title = browse.shelf_title(getattr(steps[0], kind))
    context = {
        "title": title,
        "kind": kind,
        "count": len(steps),
        "crumbs": [(TITLE, reverse("catalogue:index")), (title, "")],
        "groups": browse.by_method(steps),
    }
    if request.GET.get("in") == "full":
        context["groups"] = [
            (group.title, [in_words(step, catalogue) for step in group.steps])
            for group in browse.by_method(steps)
        ]
        return render(request, "catalogue/shelf_in_full.html", context)
    return render(request, "catalogue/shelf.html", context)


@require_GET
@reading
def step(request: HttpRequest, catalogue: Catalogue, slug: str) -> HttpResponse:
    """One step with everything there is to know of it."""
    if slug not in catalogue.steps:
        raise Http404
    shown = in_words(catalogue.steps[slug], catalogue)
    context = {
        "step": shown,
        "part_of": browse.holding(catalogue, slug),
        "crumbs": [
            (TITLE, reverse("catalogue:index")),
            (shown.system, reverse("catalogue:system", args=[shown.system_slug])),
            (shown.label, ""),
        ],
        **(_early_warning() if slug == OBSERVATIONS else {}),
    }
    return render(request, "catalogue/step.html", context)


def _early_warning() -> dict[str, Any]:
    return {
        "chart_columns": news2.COLUMNS,
        "chart_rows": news2_chart.chart_rows(),
        "chart_responses": news2_chart.RESPONSES,
        "chart_source": news2.ACKNOWLEDGEMENT,
    }
