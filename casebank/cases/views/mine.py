"""My cases: the list, and the two ways to begin one."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from casebank.cases.actions import create_case
from casebank.cases.documents import new_document
from casebank.cases.forms.upload import UploadForm
from casebank.cases.queries import newest_catalogue, newest_versions_of
from casebank.cases.views.access import for_authors, person
from casebank.cases.words import next_step

A_PAGE = 25
MINE = "My cases"


@require_GET
@for_authors
def mine(request: HttpRequest) -> HttpResponse:
    """The author's cases, each with its state and what to do next."""
    pages = Paginator(newest_versions_of(person(request)), A_PAGE)
    page = pages.get_page(request.GET.get("page"))
    rows = [(version, next_step(version.state)) for version in page]
    return render(request, "cases/mine.html", {"rows": rows, "page": page})


@require_http_methods(["GET", "POST"])
@for_authors
def new(request: HttpRequest) -> HttpResponse:
    """Begin with a title, or with nothing at all."""
    if request.method == "POST":
        title = request.POST.get("title", "").replace("\0", "").strip()[:200]
        version = create_case(document=new_document(title), by=person(request))
        return redirect("cases:section", version.pk, "opening")
    crumbs = [(MINE, reverse("cases:mine")), ("New case", "")]
    return render(request, "cases/new.html", {"crumbs": crumbs})


@require_http_methods(["GET", "POST"])
@for_authors
def upload(request: HttpRequest) -> HttpResponse:
    """Begin with a document from a file or pasted."""
    form = UploadForm(request.POST or None, request.FILES or None, catalogue=newest_catalogue())
    if form.is_bound and form.is_valid():
        version = create_case(document=form.document, by=person(request))
        messages.success(request, "The document is stored as a draft. The case check is below.")
        return redirect("cases:version", version.pk)
    crumbs = [(MINE, reverse("cases:mine")), ("Case from a document", "")]
    status = 422 if form.is_bound else 200
    return render(request, "cases/upload.html", {"form": form, "crumbs": crumbs}, status=status)
