"""One version: where it stands, its case check, its moves, preview and download."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from casebank.cases import actions
from casebank.cases.documents import written
from casebank.cases.errors import NotFit, Refused, StaleEdit
from casebank.cases.models import CaseVersion
from casebank.cases.panel import section_links, shown_problems
from casebank.cases.policies import (
    may_edit,
    may_rehearse,
    may_see_figures,
    may_start_version,
    moves_open_to,
)
from casebank.cases.queries import (
    catalogue_for,
    comments_on,
    history_of,
    other_versions_of,
    own_case_for,
    own_version_for,
    rehearsals_of,
    review_of,
)
from casebank.cases.reading import read_case
from casebank.cases.views.access import for_authors, lock_of, person
from casebank.cases.views.mine import MINE
from casebank.cases.words import happened, next_step, place_in_words

SHOWN_REHEARSALS = 5


def crumbs_to(version: CaseVersion, *further: str) -> list[tuple[str, str]]:
    """The way to a page of this version."""
    trail = [(MINE, reverse("cases:mine"))]
    if not further:
        return [*trail, (str(version), "")]
    here = (str(version), reverse("cases:version", args=[version.pk]))
    return [*trail, here, *[(label, "") for label in further]]


@require_GET
@for_authors
def version(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The overview of one version."""
    found = own_version_for(person(request), pk)
    return render(request, "cases/version.html", _overview(request, found))


def _overview(request: HttpRequest, found: CaseVersion) -> dict[str, Any]:
    user, problems = person(request), review_of(found).problems
    comments = list(comments_on(found))
    return {
        "version": found,
        "crumbs": crumbs_to(found),
        "has_aside": True,
        "next_step": next_step(found.state),
        "may_edit": may_edit(user, found),
        "may_start": may_start_version(user, found.case),
        "moves": moves_open_to(user, found),
        "may_rehearse": may_rehearse(user, found),
        "rehearsals": rehearsals_of(found)[:SHOWN_REHEARSALS],
        "may_see_figures": may_see_figures(user, found),
        "problems": shown_problems(found, problems),
        "is_fit": not any(problem.severity == "error" for problem in problems),
        "sections": section_links(found, problems, comments),
        "comments": [(place_in_words(c.path, found.document), c) for c in comments],
        "history": [(happened(event.name), event) for event in history_of(found)],
        "others": other_versions_of(found),
    }


@require_POST
@for_authors
def move(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Make one of the author's moves."""
    found = own_version_for(person(request), pk)
    name = request.POST.get("name", "")
    try:
        moved = actions.move(version=found, name=name, by=person(request), lock=lock_of(request))
    except (Refused, NotFit, StaleEdit) as error:
        messages.error(request, str(error))
    else:
        messages.success(request, f"This version is now {moved.state}.")
    return redirect("cases:version", pk)


@require_POST
@for_authors
def start_version(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Begin the next version of a case."""
    case = own_case_for(person(request), pk)
    try:
        begun = actions.start_new_version(case=case, by=person(request))
    except Refused as error:
        messages.error(request, str(error))
        newest = case.versions.order_by("-number")[0]
        return redirect("cases:version", newest.pk)
    messages.success(request, "A new version is begun. Students keep the published one meanwhile.")
    return redirect("cases:version", begun.pk)


@require_GET
@for_authors
def preview(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The whole document as a calm page."""
    found = own_version_for(person(request), pk)
    read = read_case(found.document, catalogue_for(found))
    context = {
        "version": found,
        "crumbs": crumbs_to(found, "Preview"),
        "read": read,
        "findings": [(finding, ()) for finding in read.findings],
    }
    return render(request, "cases/preview.html", context)


@require_GET
@for_authors
def download(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The document as a JSON file."""
    found = own_version_for(person(request), pk)
    name = f"case-version-{found.number}.json"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(written(found.document), content_type="application/json", headers=headers)
