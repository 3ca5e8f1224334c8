"""Who is asking: the signed-in person, with the right to examine patients."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse

from accounts.models import User
from casebank.core.http.refusal import refusal
from casebank.encounters.policies import may_practise

View = Callable[..., HttpResponse]


def practising(view: View) -> View:
    """Refuse people whose roles do not examine patients."""

    @wraps(view)
    @login_required
    def checked(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        verdict = may_practise(person(request))
        if not verdict:
            raise refusal(verdict.reason, kwargs)
        return view(request, *args, **kwargs)

    return cast("View", checked)


def person(request: HttpRequest) -> User:
    """The signed-in person."""
    return cast("User", request.user)
