"""Keeps what was typed when a form arrives after its session or its page has ended.

Nothing is done and nothing is stored: the answer shows the fields again, to copy, with the way to
sign in and back to where the form stood.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import urlencode, urlsplit

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render, resolve_url
from django.utils.http import url_has_allowed_host_and_scheme

SECRETS = ("password", "csrf", "token", "key", "code")
LONGEST_SHOWN = 20_000
Answer = Callable[[HttpRequest], HttpResponse]


@dataclass(frozen=True)
class Kept:
    """One field as it was typed."""

    name: str
    value: str


class KeepTyped:
    """Middleware: a form post that would only be sent to the sign-in page shows what it held."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Let everything pass but a post answered by the way to the sign-in page."""
        response = self.get_response(request)
        sign_in = resolve_url("account_login")
        is_sent_away = response.status_code == 302 and response.headers.get(
            "Location", ""
        ).startswith(f"{sign_in}?")
        if request.method == "POST" and is_sent_away and not request.user.is_authenticated:
            return kept_page(request, "Your session has ended", 401)
        return response


def csrf_failed(request: HttpRequest, reason: str = "") -> HttpResponse:
    """The answer to a form whose page was open too long, with what it held."""
    return kept_page(request, "The page was open too long", 403)


def kept_page(request: HttpRequest, title: str, status: int) -> HttpResponse:
    """The page, or for htmx the part, that shows what was typed."""
    is_part = request.headers.get("HX-Request") == "true"
    back = _where_it_stood(request)
    sign_in = f"{resolve_url('account_login')}?{urlencode({'next': back})}"
    context = {"title": title, "kept": kept_fields(request), "back": back, "sign_in": sign_in}
    name = "accounts/_kept.html" if is_part else "accounts/kept.html"
    return render(request, name, context, status=status)


def kept_fields(request: HttpRequest) -> list[Kept]:
    """What was typed, without secrets and empty fields."""
    return [
        Kept(name, value[:LONGEST_SHOWN])
        for name, values in request.POST.lists()
        for value in values
        if value.strip() and not any(secret in name.lower() for secret in SECRETS)
    ]


def _where_it_stood(request: HttpRequest) -> str:
    """The page the form was on, if it is ours, with a request's words in its address."""
    before = request.headers.get("Referer", "")
    is_ours = url_has_allowed_host_and_scheme(
        before, {request.get_host()}, require_https=request.is_secure()
    )
    path = urlsplit(before).path if is_ours and before else "/"
    text = request.POST.get("text", "")[:300]
    return f"{path}?{urlencode({'text': text})}" if text and path != "/" else path
