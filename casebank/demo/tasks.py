"""The job that lets sixty simulated learners examine the published patients."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from typing import Any

import numpy as np

from accounts.models import User
from casebank.cases.library import compiled_version
from casebank.cases.models import CaseVersion
from casebank.core.jobs.registry import JobContext, job
from casebank.demo.actions import YEAR
from casebank.demo.people import students
from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.codec import state_from_json
from casebank.domain.encounter.model import EncounterError, Entry, Request
from casebank.domain.rehearsal import Learner, conclusion_of, plan_of, words_for
from casebank.encounters import actions
from casebank.encounters.media import media_in
from casebank.encounters.models import Encounter
from casebank.encounters.queries import published_versions
from casebank.encounters.reading import AskedBack

SPREAD = 0.9


@job(YEAR)
def invent_year(context: JobContext) -> dict[str, Any]:
    """Each learner examines each patient once; a second run goes on where the first stopped."""
    emails = [person.email for person in students()]
    users = {user.email: user for user in User.objects.filter(email__in=emails)}
    versions = list(published_versions().order_by("pk"))
    abilities = np.random.default_rng(2026).normal(0.4, SPREAD, len(emails))
    for number, email in enumerate(emails):
        context.progress.percent(100 * number / len(emails), f"Learner {number + 1}")
        for version in versions:
            learner = Learner(float(abilities[number]), seed=number * 1000 + version.number)
            examine(version=version, learner=learner, by=users[email])
    return {"learners": len(emails), "patients": len(versions)}


def examine(*, version: CaseVersion, learner: Learner, by: User) -> None:
    """One learner at one bed, through the same actions as a person, unless already concluded."""
    mine = Encounter.objects.filter(student=by, version=version)
    if mine.filter(concluded_at__isnull=False).exists():
        return
    case = compiled_version(version.pk)
    encounter = actions.begin(version=version, by=by)
    for place, request in enumerate(plan_of(case, learner)):
        for entry in _ask(encounter, [request], by, f"rehearsal-{place}"):
            _name(case, entry, encounter, learner, by)
    encounter.refresh_from_db()
    stated = conclusion_of(case, learner, state_from_json(encounter.live))
    actions.conclude(
        encounter_id=encounter.pk,
        probabilities=stated,
        summary="Concluded by a simulated learner.",
        plan="",
        by=by,
        key="rehearsal-conclusion",
    )


def _ask(encounter: Encounter, requests: Sequence[Request], by: User, key: str) -> Sequence[Entry]:
    try:
        return actions.ask(encounter_id=encounter.pk, say=lambda *_: requests, by=by, key=key)[1]
    except EncounterError as error:
        raise RuntimeError(f"A simulated learner asked what cannot be: {requests}") from error


def _name(
    case: CompiledCase, entry: Entry, encounter: Encounter, learner: Learner, by: User
) -> None:
    """Say what was heard or seen; a learner who is asked back leaves it at that."""
    for index, medium in enumerate(media_in(case, entry.payload)):
        words = words_for(case.catalogue.vocabulary, learner, medium, entry.seq)
        if words:
            with suppress(AskedBack):
                actions.read_finding(
                    encounter_id=encounter.pk, entry=entry.seq, medium=index, text=words, by=by
                )
