"""Does what was sent with an idempotency key once, and keeps the answer it got."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from django.contrib.auth.base_user import AbstractBaseUser
from django.db import connection, transaction

from casebank.core.models import KeptAnswer


@dataclass(frozen=True)
class Answer:
    """An answer of the API: its status, its body as JSON text, and headers of its own."""

    status: int
    body: str
    headers: Mapping[str, str] = field(default_factory=dict)


class KeyReusedError(Exception):
    """The key was used before, by this person, for something else."""


@transaction.atomic
def answer_once(
    *, by: AbstractBaseUser, key: str, content: str, do: Callable[[], Answer]
) -> Answer:
    """What ``do`` answers, or the answer it gave when this person sent this key before.

    ``key`` and ``content`` are digests of 64 hexadecimal digits. Two at once wait for each other.
    What ``do`` raises undoes what it wrote and leaves the key unused. KeyReusedError where the
    key stands for other content.
    """
    _wait_for_turn(by, key)
    kept = KeptAnswer.objects.filter(person_id=by.pk, key=key).first()
    if kept is None:
        return _kept(by, key, content, do())
    if kept.content != content:
        raise KeyReusedError
    return Answer(kept.status, kept.body, kept.headers)


def _wait_for_turn(by: AbstractBaseUser, key: str) -> None:
    """Hold this person's key until the transaction ends; nobody can lock a row not yet there."""
    digest = hashlib.sha256(f"{by.pk}|{key}".encode()).digest()
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT pg_advisory_xact_lock(%s)", [int.from_bytes(digest[:8], signed=True)]
        )


def _kept(by: AbstractBaseUser, key: str, content: str, answer: Answer) -> Answer:
    KeptAnswer.objects.create(
        person_id=by.pk,
        key=key,
        content=content,
        status=answer.status,
        body=answer.body,
        headers=dict(answer.headers),
    )
    return answer
