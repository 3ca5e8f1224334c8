"""The editor: one page a section. Whatever is typed is kept; a stale edit shows what changed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from casebank.cases.actions import save_draft
from casebank.cases.differences import Difference, differences
from casebank.cases.documents import Document
from casebank.cases.errors import Refused, StaleEdit, UnreadableDocument
from casebank.cases.forms.editor import Editor
from casebank.cases.models import CaseVersion
from casebank.cases.panel import finding_at, is_about, section_links, section_url, shown_problems
from casebank.cases.policies import may_edit
from casebank.cases.queries import catalogue_for, comments_on, own_version_for, review_of
from casebank.cases.reading import read_case
from casebank.cases.sections import BY_SLUG, SECTIONS, Section
from casebank.cases.views.access import for_authors, lock_of, person
from casebank.cases.views.version import crumbs_to
from casebank.cases.words import place_in_words


@dataclass(frozen=True)
class Changed:
    """A stale difference with its place in words."""

    place: str
    stands: str
    typed: str


def changed_in_words(found: Iterable[Difference], document: Document) -> list[Changed]:
    """The differences with their places in words."""
    return [Changed(place_in_words(d.path, document), d.stands, d.typed) for d in found]


@require_http_methods(["GET", "POST"])
@for_authors
def section(request: HttpRequest, pk: UUID, slug: str) -> HttpResponse:
    """Show or save one section."""
    version, found = own_version_for(person(request), pk), _section(slug)
    if found.editor is None:
        return _findings(request, version, found)
    if request.method == "POST":
        return save(request, version, found, found.editor)
    page = found.editor(version.document, catalogue_for(version), add=request.GET.get("add", ""))
    return render(request, page.template, context_of(request, version, found, page))


def _section(slug: str) -> Section:
    if slug not in BY_SLUG:
        raise Http404
    return BY_SLUG[slug]


def _findings(request: HttpRequest, version: CaseVersion, found: Section) -> HttpResponse:
    context = context_of(request, version, found, None)
    context["findings"] = read_case(version.document, catalogue_for(version)).findings
    return render(request, "cases/edit_findings.html", context)


def save(
    request: HttpRequest, version: CaseVersion, found: Section, editor: type[Editor], place: int = 0
) -> HttpResponse:
    """Save what was typed and go where the pressed button says."""
    page = editor(version.document, catalogue_for(version), request.POST, place=place)
    if not page.is_readable():
        context = context_of(request, version, found, page, place)
        return render(request, page.template, context, status=422)
    try:
        document = page.written()
        lock, by = lock_of(request), person(request)
        version = save_draft(version=version, document=document, lock=lock, by=by)
    except StaleEdit as stale:
        return _stale(request, stale, found, page)
    except (Refused, UnreadableDocument) as error:
        messages.error(request, str(error))
        context = context_of(request, version, found, page, place)
        return render(request, page.template, context, status=422)
    return _onwards(request, version, found, place)


def _onwards(
    request: HttpRequest, version: CaseVersion, found: Section, place: int
) -> HttpResponse:
    messages.success(request, "Saved.")
    here = section_url(version, found)
    if found.editor is None:
        here = reverse("cases:finding", args=[version.pk, place])
    if add := request.POST.get("add"):
        known = add if add.isalpha() else ""
        return redirect(f"{here}?add={known}#{known}-new")
    if "onwards" in request.POST:
        return redirect(section_url(version, following(found) or found))
    return redirect(here)


def following(found: Section) -> Section | None:
    """The section after this one."""
    place = SECTIONS.index(found)
    return SECTIONS[place + 1] if place + 1 < len(SECTIONS) else None


def _stale(request: HttpRequest, stale: StaleEdit, found: Section, page: Editor) -> HttpResponse:
    """Show what stands beside what was typed; the next save, if any, is on top of what stands."""
    current, typed = stale.current, stale.yours or {}
    fresh = type(page)(typed, page.catalogue, request.POST, place=page.place)
    fresh.is_readable()
    part = [d for d in differences(current.document, typed) if found.holds(d.path)]
    context = context_of(request, current, found, fresh, page.place)
    context["changed"] = changed_in_words(part, typed)
    context["is_stale"] = True
    return render(request, page.template, context, status=409)


def context_of(
    request: HttpRequest, version: CaseVersion, found: Section, page: Editor | None, place: int = 0
) -> dict[str, Any]:
    """What every page of the editor shows around its form."""
    problems = review_of(version).problems
    comments = list(comments_on(version))
    finding = finding_at(version, place) if found.editor is None and page else None
    label = found.label if finding is None else f"Finding {place + 1}"
    return {
        "version": version,
        "section": found,
        "following": following(found),
        "page": page,
        "place": place,
        "has_aside": True,
        "crumbs": crumbs_to(version, label),
        "may_edit": may_edit(person(request), version),
        "sections": section_links(version, problems, comments, found.slug),
        "problems": shown_problems(version, problems),
        "here": shown_problems(
            version, [p for p in problems if is_about(p.path, found, finding, place)]
        ),
        "comments": [
            (place_in_words(c.path, version.document), c)
            for c in comments
            if is_about(c.path, found, finding, place)
        ],
        "steps": list_of_steps(page),
        "diagnoses": list_of_diagnoses(page),
    }


def list_of_steps(page: Editor | None) -> list[str]:
    """The labels offered where a step is named."""
    if page is None:
        return []
    return sorted(step.label for step in page.catalogue.steps.values() if not step.parts)


def list_of_diagnoses(page: Editor | None) -> list[str]:
    """The labels offered where a diagnosis is named."""
    return sorted(item.label for item in page.catalogue.diagnoses.values()) if page else []
