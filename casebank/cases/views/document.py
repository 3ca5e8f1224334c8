"""The whole document of a draft, as a file or as text."""

from __future__ import annotations

from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from casebank.cases.actions import save_draft
from casebank.cases.differences import differences
from casebank.cases.documents import written
from casebank.cases.errors import Refused, StaleEdit
from casebank.cases.forms.upload import UploadForm
from casebank.cases.models import CaseVersion
from casebank.cases.policies import may_edit
from casebank.cases.queries import newest_catalogue, own_version_for
from casebank.cases.views.access import for_authors, lock_of, person
from casebank.cases.views.editor import changed_in_words
from casebank.cases.views.version import crumbs_to


@require_http_methods(["GET", "POST"])
@for_authors
def document(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Show the draft's text, or replace the draft by what is brought."""
    version = own_version_for(person(request), pk)
    if request.method == "GET":
        text = written(version.document)
        form = UploadForm(initial={"text": text}, catalogue=newest_catalogue())
        return _page(request, version, form)
    form = UploadForm(request.POST, request.FILES, catalogue=newest_catalogue())
    if not form.is_valid():
        return _page(request, version, form, status=422)
    return _replace(request, version, form)


def _replace(request: HttpRequest, version: CaseVersion, form: UploadForm) -> HttpResponse:
    lock, by = lock_of(request), person(request)
    try:
        save_draft(version=version, document=form.document, lock=lock, by=by)
    except StaleEdit as stale:
        form.keep_text()
        found = differences(stale.current.document, form.document)
        changed = changed_in_words(found, form.document)
        return _page(request, stale.current, form, status=409, changed=changed, is_stale=True)
    except Refused as error:
        messages.error(request, str(error))
        return _page(request, version, form, status=422)
    messages.success(request, "The document is stored. The case check is below.")
    return redirect("cases:version", version.pk)


def _page(
    request: HttpRequest, version: CaseVersion, form: UploadForm, status: int = 200, **more: object
) -> HttpResponse:
    context = {
        "version": version,
        "form": form,
        "may_edit": may_edit(person(request), version),
        "crumbs": crumbs_to(version, "Document"),
        **more,
    }
    return render(request, "cases/document.html", context, status=status)
