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
    return [
        Link(label, url := reverse(name), request.path.startswith(url))
        for label, name, wanted in PLACES
        if wanted & user.permissions
    ]
