"""The student's whole job without a browser."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any, cast
from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework.permissions import BasePermission, IsAuthenticated
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.models import User
from casebank.core.api.incoming import IDEMPOTENCY, valid
from casebank.core.api.once import once
from casebank.core.api.problems import ProblemError
from casebank.domain.encounter.model import EncounterError
from casebank.domain.encounter.model import Entry as LogEntry
from casebank.domain.visibility import (
    CAUTION,
    VisibleEntry,
    VisibleRequest,
    VisibleStatement,
)
from casebank.encounters import actions, queries
from casebank.encounters import serializers as shapes
from casebank.encounters.debriefing.presenting import debrief_data
from casebank.encounters.debriefing.queries import debrief_for
from casebank.encounters.media import medium_data
from casebank.encounters.models import Encounter
from casebank.encounters.policies import may_practise, may_see_debrief
from casebank.encounters.reading import AskedBack, picking, saying


class Practising(BasePermission):
    """People whose roles examine patients."""

    message = "Your role does not examine patients."

    def has_permission(self, request: Request, view: APIView) -> bool:
        """The same rule as the pages'."""
        return bool(may_practise(_person(request)))


class StudentView(APIView):
    """Base of the student's views."""

    permission_classes = (IsAuthenticated, Practising)


def _person(request: Request) -> User:
    return cast("User", request.user)


class Patients(StudentView):
    """The patients there are to examine."""

    @extend_schema(responses=shapes.PatientOut(many=True))
    def get(self, request: Request) -> Response:
        """All published patients."""
        rows = queries.patients_for(_person(request))
        return Response(shapes.PatientOut(rows, many=True).data)


class Encounters(StudentView):
    """Beginning an encounter."""

    @extend_schema(
        request=shapes.BeginIn, responses={201: shapes.EncounterOut}, parameters=[IDEMPOTENCY]
    )
    @once
    def post(self, request: Request) -> Response:
        """Begin with a patient, or return the encounter already open."""
        data = valid(shapes.BeginIn, request)
        version = queries.published_version(data["case"])
        encounter = actions.begin(version=version, by=_person(request), cued=data["cued"])
        return Response(_encounter(encounter), status=201)


class OneEncounter(StudentView):
    """One encounter."""

    @extend_schema(responses=shapes.EncounterOut)
    def get(self, request: Request, pk: UUID) -> Response:
        """The sheet so far."""
        return Response(_encounter(queries.encounter_for(_person(request), pk)))


class Requests(StudentView):
    """Asking for findings."""

    @extend_schema(
        request=shapes.RequestIn, responses={201: shapes.MadeOut}, parameters=[IDEMPOTENCY]
    )
    @once
    def post(self, request: Request, pk: UUID) -> Response:
        """Do one thing, in own words or as step and technique; words not understood cost nothing.

        422 ``not-understood`` and ``asked-back`` list the words and the choices.
        """
        data = valid(shapes.RequestIn, request)
        say = saying(data["text"]) if data.get("text") else picking(_choice(data))
        try:
            encounter, entries = actions.ask(encounter_id=pk, say=say, by=_person(request))
        except AskedBack as back:
            raise _asked_back(back) from back
        except EncounterError as error:
            raise ProblemError(422, "not-possible", str(error)) from error
        return Response(_made(encounter, entries), status=201)


class Differential(StudentView):
    """The working differential."""

    @extend_schema(
        request=shapes.ProbabilitiesIn, responses={201: shapes.MadeOut}, parameters=[IDEMPOTENCY]
    )
    @once
    def post(self, request: Request, pk: UUID) -> Response:
        """State a working differential."""
        data = valid(shapes.ProbabilitiesIn, request)
        try:
            encounter, entries = actions.state_differential(
                encounter_id=pk,
                probabilities=data["probabilities"],
                by=_person(request),
            )
        except EncounterError as error:
            raise ProblemError(422, "not-possible", str(error)) from error
        return Response(_made(encounter, entries), status=201)


class Readings(StudentView):
    """Naming what was heard or seen."""

    @extend_schema(
        request=shapes.ReadingIn, responses={201: shapes.MadeOut}, parameters=[IDEMPOTENCY]
    )
    @once
    def post(self, request: Request, pk: UUID) -> Response:
        """Say what a sound, trace or picture of an entry is; the last reading of it counts.

        422 ``not-understood`` and ``asked-back`` list the words and whole texts to choose from.
        Whether it is right is told in the debrief alone.
        """
        data = valid(shapes.ReadingIn, request)
        try:
            encounter, entries = actions.read_finding(encounter_id=pk, **data, by=_person(request))
        except AskedBack as back:
            raise _reading_asked_back(back) from back
        except EncounterError as error:
            raise ProblemError(422, "not-possible", str(error)) from error
        return Response(_made(encounter, entries), status=201)


class Conclusion(StudentView):
    """The end of an encounter."""

    @extend_schema(
        request=shapes.ConclusionIn, responses={201: shapes.MadeOut}, parameters=[IDEMPOTENCY]
    )
    @once
    def post(self, request: Request, pk: UUID) -> Response:
        """Commit to a final differential."""
        data = valid(shapes.ConclusionIn, request)
        try:
            encounter, entries = actions.conclude(encounter_id=pk, **data, by=_person(request))
        except EncounterError as error:
            raise ProblemError(422, "not-possible", str(error)) from error
        return Response(_made(encounter, entries), status=201)


class DebriefView(StudentView):
    """The debrief."""

    @extend_schema(responses=shapes.DebriefOut)
    def get(self, request: Request, pk: UUID) -> Response:
        """Marks and their points, for the student and tutors; 409 before the conclusion."""
        encounter = debrief_for(_person(request), pk)
        verdict = may_see_debrief(encounter)
        if not verdict:
            raise ProblemError(409, "not-concluded", verdict.reason)
        entries = _entries(queries.sheet_of(encounter))
        return Response(debrief_data(encounter) | {"entries": entries, "caution": CAUTION})


def _choice(data: dict[str, Any]) -> str:
    return json.dumps(
        {"step": data["step"], "technique": data.get("technique", {}), "all": data["everything"]}
    )


def _asked_back(back: AskedBack) -> ProblemError:
    choices = [{"label": c.label, **json.loads(c.value)} for c in back.choices]
    slug = "asked-back" if choices else "not-understood"
    return ProblemError(
        422, slug, back.words, choices=choices, not_understood=list(back.not_understood)
    )


def _reading_asked_back(back: AskedBack) -> ProblemError:
    choices = [choice.value for choice in back.choices]
    slug = "asked-back" if choices else "not-understood"
    return ProblemError(
        422, slug, back.words, choices=choices, not_understood=list(back.not_understood)
    )


def _made(encounter: Encounter, entries: list[LogEntry]) -> dict[str, Any]:
    return {
        "entries": _entries(queries.as_seen(encounter, entries)),
        "minutes": encounter.minutes,
        "surcharge": encounter.surcharge,
        "position": encounter.last_seq,
    }


def _encounter(encounter: Encounter) -> dict[str, Any]:
    case = queries.case_of(encounter).document
    return {
        "id": str(encounter.pk),
        "patient": case.patient.model_dump(),
        "opening": case.opening,
        "minutes": encounter.minutes,
        "surcharge": encounter.surcharge,
        "concluded": encounter.concluded_at is not None,
        "position": encounter.last_seq,
        "entries": _entries(queries.sheet_of(encounter)),
        "caution": CAUTION,
    }


def _entries(entries: list[VisibleEntry]) -> list[dict[str, Any]]:
    return [_entry(entry) for entry in entries]


def _entry(entry: VisibleEntry) -> dict[str, Any]:
    data = asdict(entry)
    if isinstance(entry, VisibleRequest):
        data["technique"] = data.pop("chips")
        data["media"] = [medium_data(medium) for medium in entry.media]
    elif isinstance(entry, VisibleStatement):
        data["probabilities"] = dict(entry.probabilities)
    return data
