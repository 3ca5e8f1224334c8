"""Addresses of what was heard and seen, and what a request's media look like to its student.

An address is signed and bound to one encounter, entry and medium; it carries nothing else, and is
the same each time so that a browser need not fetch it twice. A rendition (pitch raised, half speed)
is part of what is signed, so it has an address of its own. Rendering is ``clips``'s.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any
from uuid import UUID

from django.core import signing
from django.urls import reverse

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.model import Entry as LogEntry
from casebank.domain.encounter.perceive import Medium, perceived
from casebank.domain.signs import SignError, alternative, parse
from casebank.domain.visibility import VisibleMedium, understood
from casebank.encounters.clips import AS_HEARD, RENDITIONS, SOUND_ENDINGS, Rendition
from casebank.encounters.models import Encounter

SALT = "casebank.encounters.media"
Readings = Mapping[tuple[int, int], Mapping[str, Any]]


@dataclass(frozen=True)
class Place:
    """Which medium of which entry of which encounter, and in which rendition."""

    encounter: UUID
    seq: int
    index: int
    rendition: Rendition = AS_HEARD


def token_of(place: Place) -> str:
    """The place, signed; the same for the same place as long as the site keeps its key."""
    value = [place.encounter.hex, place.seq, place.index, *place.rendition.names]
    return signing.Signer(salt=SALT).sign_object(value)


def place_of(token: str) -> Place | None:
    """The place of a token that this site signed; None for any other."""
    try:
        encounter, seq, index, *names = signing.Signer(salt=SALT).unsign_object(token)
        return Place(UUID(encounter), int(seq), int(index), Rendition.of(names))
    except (signing.BadSignature, ValueError, TypeError):
        return None


def address_of(place: Place) -> str:
    """The address without its ending."""
    whole = reverse("encounters:media", args=[token_of(place), "svg"])
    return whole.removesuffix(".svg")


def renditions_of(medium: Medium, address_of: Callable[[Rendition], str]) -> dict[str, str]:
    """A sound's other renditions, raised, slow and both, by name; none of what is seen."""
    others = [one for one in RENDITIONS if one != AS_HEARD] if medium.kind == "sound" else []
    return {"-".join(one.names): address_of(one) for one in others}


def media_in(case: CompiledCase, payload: Mapping[str, Any]) -> tuple[Medium, ...]:
    """What a logged request gave to hear or see, from the case it was made in."""
    if "media" not in payload:
        return ()
    return perceived(case, payload["step"], payload["technique"], payload["stage"])


def readings_in(entries: Iterable[LogEntry]) -> Readings:
    """The last reading of each medium, by entry and index."""
    return {
        (one.payload["entry"], one.payload["medium"]): one.payload
        for one in entries
        if one.kind == "reading"
    }


def media_seen(
    encounter: Encounter, case: CompiledCase, entry: LogEntry, readings: Readings
) -> Sequence[VisibleMedium]:
    """The media of a logged request as its student may see them."""
    return [
        _seen(encounter, case, entry, index, medium, readings.get((entry.seq, index)))
        for index, medium in enumerate(media_in(case, entry.payload))
    ]


def _seen(
    encounter: Encounter,
    case: CompiledCase,
    entry: LogEntry,
    index: int,
    medium: Medium,
    reading: Mapping[str, Any] | None,
) -> VisibleMedium:
    is_open = encounter.concluded_at is None
    place = Place(encounter.pk, entry.seq, index)
    return VisibleMedium(
        index=index,
        kind=medium.kind,
        address=address_of(place),
        renditions=renditions_of(medium, lambda one: address_of(replace(place, rendition=one))),
        alternative=in_words(medium, entry.payload["technique"]),
        text=reading["text"] if reading else "",
        understood=understood(reading, case.catalogue) if reading else (),
        unused=tuple(reading["unused"]) if reading else (),
        reading_address=(
            reverse("encounters:reading", args=[encounter.pk, entry.seq, index]) if is_open else ""
        ),
    )


def in_words(medium: Medium, technique: Mapping[str, str]) -> str:
    """The medium under this technique in words that do not name it."""
    spec = json.dumps(medium.spec, sort_keys=True)
    return _in_words(spec, tuple(sorted(technique.items())))


@lru_cache(maxsize=1024)
def _in_words(spec: str, technique: tuple[tuple[str, str], ...]) -> str:
    try:
        return alternative(parse(json.loads(spec)), dict(technique))
    except SignError:  # the case check refuses such a case; an older one may still hold it
        return ""


def medium_data(medium: VisibleMedium) -> dict[str, Any]:
    """Something to hear or see as the API gives it, with the address of every file."""
    endings = (*SOUND_ENDINGS, "svg") if medium.kind == "sound" else ("svg",)
    return {
        "index": medium.index,
        "kind": medium.kind,
        "addresses": [f"{medium.address}.{ending}" for ending in endings],
        "renditions": {
            name: [f"{address}.{ending}" for ending in SOUND_ENDINGS]
            for name, address in medium.renditions.items()
        },
        "alternative": medium.alternative,
        "reading": medium.text,
        "understood": list(medium.understood),
    }
