"""A job's page: progress that renews itself, and the button that cancels."""

from __future__ import annotations

from contextlib import suppress
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from casebank.core.jobs import actions
from casebank.core.jobs.policies import may_cancel
from casebank.core.jobs.queries import job_for


@never_cache
@login_required
@require_safe
def show(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """The whole page, or to htmx the progress alone; a finished one asks for no more."""
    job = job_for(request.user, job_id)  # type: ignore[arg-type]  # login_required
    context = {"job": job, "may_cancel": bool(may_cancel(request.user, job))}  # type: ignore[arg-type]
    template = "jobs/_progress.html" if request.headers.get("HX-Request") else "jobs/page.html"
    return render(request, template, context)


@login_required
@require_POST
def cancel(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """Ask the job to stop; one that has finished meanwhile is simply shown."""
    job = job_for(request.user, job_id)  # type: ignore[arg-type]
    with suppress(PermissionDenied):
        actions.cancel_job(job=job, by=request.user)  # type: ignore[arg-type]
    return redirect("jobs:show", job_id=job_id)
