"""The links a person's roles give in the header; read only when a page shows them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from accounts.models import User
from accounts.permissions import Permission


@dataclass(frozen=True)
class Link:
    """A link of the header."""

    label: str
    url: str
    current: bool


P = Permission
PLACES: tuple[tuple[str, str, frozenset[Permission]], ...] = (
    ("Patients", "encounters:patients", frozenset({P.PRACTISE})),
    ("Steps", "catalogue:index", frozenset({P.PRACTISE, P.WRITE_CASES, P.REVIEW_CASES})),
    ("My cases", "cases:mine", frozenset({P.WRITE_CASES})),
    ("Try a sign", "cases:signs", frozenset({P.WRITE_CASES, P.REVIEW_CASES})),
    ("To review", "reviews:queue", frozenset({P.REVIEW_CASES})),
    ("Cohorts", "analytics:reports", frozenset({P.REPORT_OWN_COHORTS, P.REPORT_ALL_COHORTS})),
    ("People", "accounts:people", frozenset({P.MANAGE_PEOPLE})),
)


def navigation(request: HttpRequest) -> dict[str, Any]:
    """Template context: ``nav``, lazily."""
    return {"nav": SimpleLazyObject(lambda: links_for(request))}


def links_for(request: HttpRequest) -> list[Link]:
    """The links this person may follow."""
    user = getattr(request, "user", None)
    if not isinstance(user, User) or not user.is_active:
        return []
    places = [(label, reverse(name)) for label, name, needs in PLACES if needs & user.permissions]
    under = [url for _, url in places if request.path.startswith(url)]
    current = max(under, key=len, default="")  # of a place within another, the inner one
    return [Link(label, url, url == current) for label, url in places]
