"""The answers to 400, 403, 404 and 500: a page, or a problem document below /api/."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string

from casebank.core.api.problems import problem_response

API = "/api/"
PROBLEMS = {
    400: ("bad-request", "Bad request", "This could not be read. Check it and send it again."),
    403: ("forbidden", "Forbidden", "This was not accepted. Sign in again, then repeat it."),
    404: ("not-found", "Not found", "There is nothing here for you. Check the address."),
    500: ("server-error", "Server error", "Something went wrong here. Try again in a minute."),
}


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """400: what was sent could not be read."""
    return _answer(request, 400)


def forbidden(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """403: a person may know of the thing but not do this."""
    return _answer(request, 403)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """404: the same for what is not there and for what one may not know of."""
    return _answer(request, 404)


def server_error(request: HttpRequest) -> HttpResponse:
    """500: the fault is ours."""
    return _answer(request, 500)


def _answer(request: HttpRequest, status: int) -> HttpResponse:
    if request.path.startswith(API):
        return problem_response(status, *PROBLEMS[status])
    # No context processors: an error page must not itself need what may be broken.
    return HttpResponse(render_to_string(f"{status}.html"), status=status)
