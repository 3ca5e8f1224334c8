"""What every page of an author starts with: signed in, an author, and the catalogue at hand."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from accounts.models import User
from casebank.cases.errors import NoCatalogue
from casebank.cases.policies import may_write
from casebank.domain.verdict import Verdict

View = Callable[..., HttpResponse]


def only_for(may_use: Callable[[User], Verdict]) -> Callable[[View], View]:
    """Only for whom the policy lets in; everyone else who is signed in finds nothing here."""

    def guard(view: View) -> View:
        @login_required
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            if not may_use(person(request)):
                raise Http404
            try:
                return view(request, *args, **kwargs)
            except NoCatalogue as error:
                reason = {"reason": str(error)}
                return render(request, "cases/no_catalogue.html", reason, status=503)

        return guarded

    return guard


for_authors = only_for(may_write)


def person(request: HttpRequest) -> User:
    """Who asks; only behind ``login_required``."""
    user = request.user
    if not isinstance(user, User):
        raise Http404
    return user


def lock_of(request: HttpRequest) -> int:
    """The count of edits the posted page started from; 0, which is always stale, if damaged."""
    text = request.POST.get("lock", "")
    return int(text) if text.isdecimal() and len(text) < 10 else 0
