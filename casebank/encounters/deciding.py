"""Addresses of signs as the technique that decides shows them, for the debrief alone.

An address is signed and bound to one encounter and one sign of its case. It is made for a debrief
and answered only once the encounter is concluded; what was heard at the bed has addresses of its
own (see ``media``), and neither can be made from the other.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from uuid import UUID

from django.core import signing
from django.urls import reverse

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.debrief.signs import Sign, deciding_sign
from casebank.domain.encounter.perceive import Medium
from casebank.domain.visibility import VisibleMedium
from casebank.encounters.clips import AS_HEARD, Rendition
from casebank.encounters.media import in_words, renditions_of
from casebank.encounters.models import Encounter

SALT = "casebank.encounters.deciding"


@dataclass(frozen=True)
class SignPlace:
    """Which finding of the case of which encounter, by its place in the document."""

    encounter: UUID
    finding: int
    rendition: Rendition = AS_HEARD


@dataclass(frozen=True)
class Shown:
    """What the deciding technique gives to hear or see, and that full technique."""

    medium: Medium
    technique: Mapping[str, str]


def token_of(place: SignPlace) -> str:
    """The place, signed; the same for the same place as long as the site keeps its key."""
    value = [place.encounter.hex, place.finding, *place.rendition.names]
    return signing.Signer(salt=SALT).sign_object(value)


def place_of(token: str) -> SignPlace | None:
    """The place of a token that this site signed; None for any other."""
    try:
        encounter, finding, *names = signing.Signer(salt=SALT).unsign_object(token)
        return SignPlace(UUID(encounter), int(finding), Rendition.of(names))
    except (signing.BadSignature, ValueError, TypeError, AttributeError):
        return None


def shown_at(case: CompiledCase, finding: int) -> Shown | None:
    """What there is to hear or see of the nth finding; None where nothing is."""
    if not 0 <= finding < len(case.document.findings):
        return None
    sign = deciding_sign(case, case.document.findings[finding])
    if sign is None or sign.spec is None:
        return None
    return Shown(Medium(sign.spec, ()), sign.technique)


def as_decided(encounter: Encounter, case: CompiledCase, sign: Sign) -> VisibleMedium | None:
    """The sign to hear or see in a debrief; None where it is told in words alone.

    Signs to be heard in the same sound have one address.
    """
    if encounter.concluded_at is None or sign.spec is None:
        return None
    place = SignPlace(encounter.pk, _first_like(case, sign))
    medium = Medium(sign.spec, ())
    return VisibleMedium(
        index=0,
        kind=medium.kind,
        address=_address_of(place),
        renditions=renditions_of(medium, lambda one: _address_of(replace(place, rendition=one))),
        alternative=in_words(medium, sign.technique),
    )


def _first_like(case: CompiledCase, sign: Sign) -> int:
    """The first finding of that step to be heard or seen in the very same medium."""
    step = next(one.step for one in case.document.findings if one.id == sign.finding)
    for place, finding in enumerate(case.document.findings):
        found = deciding_sign(case, finding) if finding.step == step else None
        if found and (found.spec, found.technique) == (sign.spec, sign.technique):
            return place
    raise ValueError(f"{sign.finding} is no finding of this case: give one of its own signs.")


def _address_of(place: SignPlace) -> str:
    """The address without its ending."""
    return reverse("encounters:deciding", args=[token_of(place), "svg"]).removesuffix(".svg")
