"""The queue, the reading page with its comments, and the decision."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from casebank.cases.errors import NotFit, Refused, StaleEdit
from casebank.cases.models import CaseVersion
from casebank.cases.policies import may_comment, moves_open_to
from casebank.cases.queries import catalogue_for, review_of
from casebank.cases.reading import read_case
from casebank.cases.views.access import lock_of, only_for, person
from casebank.cases.words import happened, place_in_words
from casebank.reviews import actions
from casebank.reviews.policies import may_review
from casebank.reviews.queries import (
    awaiting_review,
    history_for_reviewers,
    reviewable_version_for,
    reviewed_before,
)
from casebank.reviews.remarks import remarks_by_place

A_PAGE = 25
View = Callable[..., HttpResponse]


for_reviewers = only_for(may_review)


@require_GET
@for_reviewers
def queue(request: HttpRequest) -> HttpResponse:
    """What awaits review, and what was reviewed before."""
    user = person(request)
    context = {
        "waiting": list(awaiting_review(user)[:100]),
        "page": Paginator(reviewed_before(user), A_PAGE).get_page(request.GET.get("page")),
    }
    return render(request, "reviews/queue.html", context)


@require_GET
@for_reviewers
def reading(request: HttpRequest, pk: UUID) -> HttpResponse:
    """One version, section by section, with its comments."""
    version = reviewable_version_for(person(request), pk)
    return render(request, "reviews/reading.html", _context(request, version))


def _context(request: HttpRequest, version: CaseVersion, **typed: str) -> dict[str, Any]:
    user = person(request)
    comments = list(version.comments.select_related("author").order_by("pk"))
    read = read_case(version.document, catalogue_for(version))
    remarks = remarks_by_place(comments, read)
    return {
        "version": version,
        "has_aside": True,
        "crumbs": [("To review", reverse("reviews:queue")), (str(version), "")],
        "read": read,
        "remarks": remarks,
        "findings": [(f, remarks.get(f"finding-{f.place}", [])) for f in read.findings],
        "may_comment": may_comment(user, version),
        "moves": moves_open_to(user, version),
        "problems": [
            (place_in_words(problem.path, version.document), problem)
            for problem in review_of(version).problems
        ],
        "history": [(happened(event.name), event) for event in history_for_reviewers(version)],
        **typed,
    }


@require_POST
@for_reviewers
def comment(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Leave a comment at a place."""
    version = reviewable_version_for(person(request), pk)
    path = request.POST.get("path", "").replace("\0", "")
    text = request.POST.get("text", "")
    try:
        actions.add_comment(version=version, text=text, path=path, by=person(request))
    except Refused as error:
        messages.error(request, str(error))
        context = _context(request, version, typed=text, typed_path=path)
        return render(request, "reviews/reading.html", context, status=422)
    messages.success(request, "Your comment stands beside the case.")
    anchor = request.POST.get("anchor", "")
    known = anchor if anchor.replace("-", "").isalnum() else "comments"
    return redirect(f"{reverse('reviews:reading', args=[pk])}#{known}")


@require_POST
@for_reviewers
def move(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Return, approve or retire."""
    version = reviewable_version_for(person(request), pk)
    name, typed = request.POST.get("name", ""), request.POST.get("comment", "")
    try:
        moved = actions.decide(
            version=version, name=name, by=person(request), comment=typed, lock=lock_of(request)
        )
    except (Refused, NotFit, StaleEdit) as error:
        messages.error(request, str(error))
        version.refresh_from_db()
        context = _context(request, version, typed_decision=typed)
        return render(request, "reviews/reading.html", context, status=409)
    messages.success(request, f"{moved} is now {moved.state}.")
    return redirect("reviews:queue")
