"""The links a person's roles give in the header; read only when a page shows them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

from django.http import HttpRequest
from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from accounts.models import User
from accounts.permissions import Permission


@dataclass(frozen=True)
class Link:
    """A link of the header; ``about`` says on the home page what is there."""

    label: str
    url: str
    current: bool
    about: str = ""


class Place(NamedTuple):
    """Somewhere to go, for whoever holds one of some permissions."""

    label: str
    name: str
    needs: frozenset[Permission]
    about: str


P = Permission
PLACES = (
    Place(
        "Patients",
        "encounters:patients",
        frozenset({P.PRACTISE}),
        "Examine a patient in your own words, go on with one you began, read what was found.",
    ),
    Place(
        "Steps",
        "catalogue:index",
        frozenset({P.PRACTISE, P.WRITE_CASES, P.REVIEW_CASES}),
        "How each step of the examination is done, and what it looks for.",
    ),
    Place(
        "My cases",
        "cases:mine",
        frozenset({P.WRITE_CASES}),
        "Write patients, rehearse them, and see how students fared with them.",
    ),
    Place(
        "Try a sign",
        "cases:signs",
        frozenset({P.WRITE_CASES, P.REVIEW_CASES}),
        "Hear and see a sign before it is given to a patient.",
    ),
    Place(
        "To review",
        "reviews:queue",
        frozenset({P.REVIEW_CASES}),
        "Cases that wait for a second pair of eyes.",
    ),
    Place(
        "Cohorts",
        "analytics:reports",
        frozenset({P.REPORT_OWN_COHORTS, P.REPORT_ALL_COHORTS}),
        "What a year misses, and how far its marks can be relied on.",
    ),
    Place(
        "People",
        "accounts:people",
        frozenset({P.MANAGE_PEOPLE}),
        "Who may do what, and in which cohort.",
    ),
)


def navigation(request: HttpRequest) -> dict[str, Any]:
    """Template context: ``nav``, lazily."""
    return {"nav": SimpleLazyObject(lambda: links_for(request))}


def links_for(request: HttpRequest) -> list[Link]:
    """The links this person may follow."""
    user = getattr(request, "user", None)
    if not isinstance(user, User) or not user.is_active:
        return []
    places = [(each, reverse(each.name)) for each in PLACES if each.needs & user.permissions]
    under = [url for _, url in places if request.path.startswith(url)]
    current = max(under, key=len, default="")  # of a place within another, the inner one
    return [Link(each.label, url, url == current, each.about) for each, url in places]
