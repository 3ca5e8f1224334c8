"""Trying a sign: its parameters, what it sounds and looks like, and the files of both."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from casebank.cases.forms.signs import ExampleForm, SignForm, examples, filled_with
from casebank.cases.policies import may_try_signs, may_write
from casebank.cases.signs import NotASignError, Tried, token_of, tried_in
from casebank.cases.views.access import person
from casebank.cases.views.mine import MINE
from casebank.core.http.ranges import ranged
from casebank.core.media.sign_files import (
    AS_HEARD,
    SOUND_ENDINGS,
    TYPES,
    Rendition,
    key_of,
    sign_file,
)

View = Callable[..., HttpResponse]
FIRST = "heart-01"
RAISED, HALF = "raised", "half"
"""Values of the queries ``pitch`` and ``speed`` of a sound's address."""


def for_trying(view: View) -> View:
    """Only for authors and reviewers; others who are signed in are refused."""

    @login_required
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        verdict = may_try_signs(person(request))
        if not verdict:
            raise PermissionDenied(verdict.reason)
        return view(request, *args, **kwargs)

    return guarded


@require_http_methods(["GET", "HEAD", "POST"])
@for_trying
def signs(request: HttpRequest) -> HttpResponse:
    """An example or what was typed, with the sign that it makes."""
    name = request.GET.get("example", FIRST)
    name = name if name in examples() else FIRST
    form = SignForm(request.POST) if request.method == "POST" else filled_with(name)
    heard = _addresses(request, form)
    context = {
        "form": form,
        "example_form": ExampleForm(initial={"example": name}),
        "heard": heard,
        "is_posted": request.method == "POST",
        "crumbs": _crumbs(request),
    }
    return render(request, "cases/signs.html", context, status=200 if heard else 422)


def _addresses(request: HttpRequest, form: SignForm) -> dict[str, str]:
    """Where the sign is heard and seen; empty where the form has problems, which it then says."""
    if not form.is_valid() or form.tried is None:
        return {}
    try:
        token = token_of(form.tried, owner=person(request))
    except NotASignError as failure:
        form.refuse(failure)
        return {}
    found = {"picture": reverse("cases:sign-drawing", args=[token])}
    if form.tried.is_sound:
        flac, wav = (reverse("cases:sign-sound", args=[token, one]) for one in SOUND_ENDINGS)
        found |= {
            "flac": flac,
            "wav": wav,
            "raised": f"{wav}?pitch={RAISED}",
            "slow": f"{wav}?speed={HALF}",
            "raised_slow": f"{wav}?pitch={RAISED}&speed={HALF}",
        }
    return found


def _crumbs(request: HttpRequest) -> list[tuple[str, str]]:
    own = [(MINE, reverse("cases:mine"))] if may_write(person(request)) else []
    return [*own, ("Try a sign", "")]


@require_safe
@for_trying
def sound(request: HttpRequest, token: str, ending: str) -> HttpResponse:
    """The sound of a token, whole or a range; ``?pitch=raised`` and ``?speed=half`` change it."""
    tried = _tried(request, token)
    if ending not in SOUND_ENDINGS or not tried.is_sound:
        raise Http404
    asked = request.GET
    rendition = Rendition(asked.get("pitch") == RAISED, asked.get("speed") == HALF)
    return _file(request, tried, ending, rendition)


@require_safe
@for_trying
def drawing(request: HttpRequest, token: str) -> HttpResponse:
    """The trace or picture of a token."""
    return _file(request, _tried(request, token), "svg")


def _tried(request: HttpRequest, token: str) -> Tried:
    tried = tried_in(token, owner=person(request))
    if tried is None:
        raise Http404
    return tried


def _file(
    request: HttpRequest, tried: Tried, ending: str, rendition: Rendition = AS_HEARD
) -> HttpResponse:
    made_of = (tried.parameters, tried.technique, ending, rendition)
    data, name = sign_file(*made_of), key_of(*made_of)
    etag = f'"{hashlib.sha256(name.encode()).hexdigest()[:32]}"'
    answer = ranged(request, data, TYPES[ending], etag)
    answer["Cache-Control"] = "private, max-age=3600"
    answer["Content-Disposition"] = f'inline; filename="sign.{ending}"'
    return answer
