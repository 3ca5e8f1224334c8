"""Beds for the load: students signed in, each with an encounter of a published case."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode
from uuid import UUID

from django.middleware.csrf import _get_new_csrf_string
from django.test import Client

from accounts import actions as people_actions
from accounts.models import User
from casebank.encounters import actions
from casebank.encounters.models import Encounter
from casebank.encounters.queries import published_versions

BACKENDS = {
    "bed": "accounts.backend.AccountBackend",
    "floor": "django.contrib.auth.backends.ModelBackend",
}


@dataclass(frozen=True)
class Bed:
    """One student's encounter and what their browser sends."""

    encounter: UUID
    cookie: str
    token: str

    def post(self, path: str, **fields: str) -> bytes:
        """The whole HTTP request of a form post."""
        body = urlencode({"csrfmiddlewaretoken": self.token, **fields})
        return (
            f"POST {path} HTTP/1.1\r\nHost: localhost\r\nCookie: {self.cookie}\r\n"
            f"HX-Request: true\r\nContent-Type: application/x-www-form-urlencoded\r\n"
            f"Content-Length: {len(body)}\r\n\r\n{body}"
        ).encode()


def students(count: int, server: str) -> list[User]:
    """Students of one server's load, made once; the floor's logs are no real logs."""
    people_actions.load_roles()
    made = []
    for number in range(count):
        email = f"{server}{number}@bench.example"
        user = User.objects.filter(email=email).first()
        if user is None:
            user = people_actions.create_person(
                email=email, name=f"Load {number}", password=None, by=None
            )
            people_actions.grant_role(user=user, role="student", by=None)
        made.append(user)
    return made


def beds(people: list[User], server: str) -> list[Bed]:
    """A fresh encounter for each, closing any that is open; signed in as that server asks."""
    version = published_versions().order_by("title")[0]
    return [_bed(user, version, server) for user in people]


def _bed(user: User, version: object, server: str) -> Bed:
    client = Client()
    client.force_login(user, backend=BACKENDS[server])
    fresh = [] if server == "floor" else Encounter.objects.filter(student=user, concluded_at=None)
    for open_one in fresh:
        actions.conclude(
            encounter_id=open_one.pk,
            probabilities={"anaemia": 0.1},
            summary="Bench.",
            plan="",
            by=user,
        )
    encounter = actions.begin(version=version, by=user)  # type: ignore[arg-type]
    token = _get_new_csrf_string()
    cookie = f"sessionid={client.cookies['sessionid'].value}; csrftoken={token}"
    return Bed(encounter.pk, cookie, token)
