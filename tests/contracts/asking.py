"""Asks every address of the table as every person; each answer is taken back afterwards."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from tests.contracts.access_table import PEOPLE, SIGN_IN, TABLE
from tests.factories.browser import Fields
from tests.factories.world import World, another_document

BODIED = ("POST", "PUT", "PATCH")
ANY_EDIT = {"If-Match": "*"}
HALF = {"probabilities": {"mitral-regurgitation": 0.5}}
SENT: dict[tuple[str, str], dict[str, Any]] = {
    ("POST", "cases:new"): {"title": "New"},
    ("POST", "cases:upload"): {"text": another_document()},
    ("POST", "cases:move"): {"name": "submit", "lock": 1},
    ("POST", "cases:document"): {"text": another_document(), "lock": 1},
    ("POST", "cases:new-finding"): {"step": "heart-auscultate"},
    ("POST", "cases:signs"): {"spec": '{"kind": "picture", "subject": "nails"}'},
    ("POST", "cases:remove-finding"): {"lock": 1},
    ("POST", "reviews:comment"): {"text": "A remark."},
    ("POST", "reviews:move"): {"name": "approve", "lock": 1},
    ("POST", "encounters:ask"): {"text": "feel apex", "after": 1},
    ("POST", "encounters:differential"): {"p-mitral-regurgitation": "50"},
    ("POST", "encounters:conclude"): {"p-mitral-regurgitation": "50", "summary": "A leak."},
    ("POST", "encounters:comment"): {"comment-text": "Well heard.", "comment-position": 0},
    ("POST", "encounters:adjust"): {"adjust-total": "70", "adjust-reason": "A second look."},
    ("POST", "encounters:reading"): {"reading": "a murmur"},
    ("POST", "api:readings"): {"entry": 1, "text": "a murmur"},
    ("POST", "api:comments"): {"text": "Well heard."},
    ("POST", "api:adjustments"): {"total": 70, "reason": "A second look."},
    ("POST", "accounts:new-person"): {
        "name": "New", "email": "new@example.org", "password": "walk the long ward"
    },
    ("POST", "accounts:person"): {"roles": ["student"], "active": "on"},
    ("POST", "accounts:new-cohort"): {"name": "New", "slug": "new"},
    ("POST", "accounts:cohort"): {"email": "sia.student@example.org", "role": "student"},
    ("POST", "accounts:tokens"): {"name": "laptop"},
    ("POST", "api:cases"): {"document": {"title": "New"}},
    ("PUT", "api:case-version"): {"document": {"title": "Changed"}},
    ("POST", "api:case-moves"): {"name": "approve"},
    ("POST", "api:case-comments"): {"text": "A remark."},
    ("POST", "api:requests"): {"text": "feel apex"},
    ("POST", "api:differential"): HALF,
    ("POST", "api:conclusion"): {**HALF, "summary": "A leak."},
}  # fmt: skip


@dataclass(frozen=True)
class Row:
    """A line of the table."""

    method: str
    name: str
    thing: str
    answers: dict[str, str]

    def __str__(self) -> str:
        return f"{self.method} {self.name} {self.thing}"


def rows() -> list[Row]:
    """The table, and the sign-in pages as rows of it."""
    lines = [line.split() for line in TABLE.splitlines() if line and not line.startswith("#")]
    own = [Row(m, n, thing, dict(zip(PEOPLE, rest, strict=True))) for m, n, thing, *rest in lines]
    return own + [_sign_in_row(*line.split()) for line in SIGN_IN.split("\n") if line]


def _sign_in_row(method: str, name: str, out: str, inside: str) -> Row:
    return Row(method, name, "key", {p: out if p == "stranger" else inside for p in PEOPLE})


def addresses() -> dict[str, frozenset[str]]:
    """Every named address of the site with the names of its parts."""
    return dict(_walk(get_resolver().url_patterns, "", frozenset()))


def _walk(
    patterns: list[URLPattern | URLResolver], prefix: str, outer: frozenset[str]
) -> Iterator[tuple[str, frozenset[str]]]:
    for one in patterns:
        parts = outer | frozenset(one.pattern.regex.groupindex)
        if isinstance(one, URLResolver):
            inner = f"{prefix}{one.namespace}:" if one.namespace else prefix
            yield from _walk(one.url_patterns, inner, parts)
        else:
            yield f"{prefix}{one.name}", parts


class Asker:
    """Asks as somebody; nothing that the answer changed stays."""

    def __init__(self, world: World) -> None:
        self.things = world.objects | {"key": {"key": "k-1", "uidb36": "1", "pk": 1}}
        self.parts = addresses()
        self.clients = {"stranger": Client(raise_request_exception=False)}
        for name, user in world.people.items():
            self.clients[name] = Client(raise_request_exception=False)
            self.clients[name].force_login(user)
        self.sent = SENT | {
            ("POST", "api:encounters"): {"case": str(self.things["published"]["pk"])},
            ("POST", "cases:finding"): self._form("author", "cases:finding", "draft"),
            ("POST", "cases:section"): self._form("author", "cases:section", "draft"),
        }

    def ask(self, who: str, method: str, name: str, thing: str, *, unknown: bool = False) -> Any:
        """The answer this person gets; ``unknown``: at an address of the kind that leads nowhere."""
        url = self.url(name, thing, unknown=unknown)
        data = self._body(method, name, thing)
        kind = {"content_type": "application/json"} if name.startswith("api:") and data else {}
        client = self.clients[who]
        with transaction.atomic():
            answer = getattr(client, method.lower())(url, data, headers=ANY_EDIT, **kind)
            transaction.set_rollback(True)
        return answer

    def _form(self, who: str, name: str, thing: str) -> dict[str, Any]:
        """The form of that page, as it would be sent back unchanged."""
        return Fields(self.clients[who].get(self.url(name, thing)).content.decode()).sent

    def _body(self, method: str, name: str, thing: str) -> dict[str, Any]:
        data = self.sent.get((method, name), {}) if method in BODIED else {}
        lock = self.things[thing].get("lock", 1)
        return data | {"lock": lock} if "lock" in data else data

    def url(self, name: str, thing: str, *, unknown: bool = False) -> str:
        """The address of that name for that thing."""
        parts = {part: self.things[thing][part] for part in self.parts[name]}
        return reverse(name, kwargs=_nowhere(parts) if unknown else parts)


def _nowhere(parts: dict[str, Any]) -> dict[str, Any]:
    other = {int: 2_000_000_000, str: "no-such"}
    return {part: other[type(v)] if type(v) in other else uuid4() for part, v in parts.items()}


def said(answer: Any) -> str:
    """The answer as the table writes it."""
    to = answer.headers.get("Location", "")
    is_page = answer.headers.get("Content-Type", "").startswith("text/html")
    # A form sent without a session is shown again beside the way to sign in.
    is_kept = answer.status_code == 401 and is_page
    return "in" if to.startswith("/account/login/?") or is_kept else str(answer.status_code)
