"""The findings: pick a step to begin one, edit one, remove one."""

from __future__ import annotations

from copy import deepcopy
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from casebank.cases.actions import save_draft
from casebank.cases.documents import Document
from casebank.cases.errors import Refused, StaleEdit
from casebank.cases.forms.finding import FindingEditor
from casebank.cases.forms.names import matching_steps, step_label
from casebank.cases.forms.raw import new_slug, rows, shown
from casebank.cases.models import CaseVersion
from casebank.cases.queries import catalogue_for, own_version_for
from casebank.cases.sections import BY_SLUG
from casebank.cases.views.access import for_authors, lock_of, person
from casebank.cases.views.editor import context_of, save

FINDINGS = BY_SLUG["findings"]


@require_http_methods(["GET", "POST"])
@for_authors
def finding(request: HttpRequest, pk: UUID, place: int) -> HttpResponse:
    """Show or save one finding."""
    version = own_version_for(person(request), pk)
    if request.method == "POST":
        place = _find(version, request.POST.get("finding", ""), place)
        return save(request, version, FINDINGS, FindingEditor, place)
    if place >= len(rows(version.document, "findings")):
        messages.error(request, "That finding is no longer there. These are the findings now.")
        return redirect("cases:section", pk, "findings")
    add = request.GET.get("add", "")
    page = FindingEditor(version.document, catalogue_for(version), add=add, place=place)
    return render(request, page.template, context_of(request, version, FINDINGS, page, place))


def _find(version: CaseVersion, key: str, place: int) -> int:
    """Where the finding stands now; one removed meanwhile is put back, blank, for what was typed.

    Changes only the document in memory: the lock is stale then, so nothing is saved unseen.
    """
    keys = [shown(row.get("id")) for row in rows(version.document, "findings")]
    if place < len(keys) and keys[place] == key:
        return place
    if key in keys:
        return keys.index(key)
    found = {"id": key} if key else {}
    version.document = {
        **version.document, "findings": [*rows(version.document, "findings"), found]
    }  # fmt: skip
    return len(keys)


@require_http_methods(["GET", "POST"])
@for_authors
def new_finding(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Search the catalogue and begin a finding of the step that is picked."""
    version = own_version_for(person(request), pk)
    if request.method == "POST":
        return _begin(request, version, request.POST.get("step", ""))
    search = request.GET.get("q", "")[:200]
    steps = matching_steps(search, catalogue_for(version))
    context = context_of(request, version, FINDINGS, None) | {"search": search, "steps": steps}
    whole = "cases/new_finding.html"
    return render(request, "cases/_steps_found.html" if request.htmx else whole, context)  # type: ignore[attr-defined]


def _begin(request: HttpRequest, version: CaseVersion, step: str) -> HttpResponse:
    document = deepcopy(version.document)
    findings = document["findings"] = rows(document, "findings")
    taken = [shown(row.get("id")) for row in findings]
    label = step_label(step, catalogue_for(version))
    findings.append({"id": new_slug(label, taken, "finding"), "step": step})
    if not _save(request, version, document, version.lock):
        return redirect("cases:section", version.pk, "findings")
    return redirect("cases:finding", version.pk, len(findings) - 1)


@require_POST
@for_authors
def remove_finding(request: HttpRequest, pk: UUID, place: int) -> HttpResponse:
    """Remove one finding."""
    version = own_version_for(person(request), pk)
    document = deepcopy(version.document)
    findings = document["findings"] = rows(document, "findings")
    if place < len(findings):
        gone = findings.pop(place)
        if _save(request, version, document, lock_of(request)):
            messages.success(request, f"Removed: {gone.get('label') or 'the finding'}.")
    return redirect(reverse("cases:section", args=[pk, "findings"]))


def _save(request: HttpRequest, version: CaseVersion, document: Document, lock: int) -> bool:
    try:
        save_draft(version=version, document=document, lock=lock, by=person(request))
    except (Refused, StaleEdit) as error:
        messages.error(request, str(error))
        return False
    return True
