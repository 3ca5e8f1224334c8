"""A bed to stand at: the small case published, and an encounter with it."""

from __future__ import annotations

from accounts.models import User
from casebank.cases.models import CaseVersion
from casebank.domain.encounter.model import Request
from casebank.encounters import actions
from casebank.encounters.models import Encounter
from tests.factories.cases import published
from tests.factories.people import Cast

CLEAN = Request("hand-hygiene")
WELL = Request("heart-auscultate", {"site": "apex", "posture": "left-lateral"})


def small_bed(people: Cast) -> CaseVersion:
    """The small case, published."""
    return published(people.author, people.reviewer)


def begun(people: Cast, by: User | None = None) -> Encounter:
    """An encounter of the student (or somebody) with it."""
    return actions.begin(version=small_bed(people), by=by or people.student)


def asked(encounter: Encounter, *requests: Request, by: User, key: str = "") -> Encounter:
    """The same after these requests."""
    found, _ = actions.ask(encounter_id=encounter.pk, say=lambda *_: requests, by=by, key=key)
    return found


def concluded(encounter: Encounter, *, by: User, **probabilities: float) -> Encounter:
    """The same, concluded."""
    stated = {name.replace("_", "-"): p for name, p in probabilities.items()}
    found, _ = actions.conclude(
        encounter_id=encounter.pk,
        probabilities=stated or {"mitral-regurgitation": 0.9},
        summary="A blowing sound through systole.",
        plan="An echocardiogram.",
        by=by,
    )
    return found
