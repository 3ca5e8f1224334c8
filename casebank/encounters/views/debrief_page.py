"""Renders the debrief, for its student and for the tutors who may comment on it."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from casebank.encounters import queries
from casebank.encounters.debriefing.building import debrief_from, replay_of
from casebank.encounters.debriefing.drawing import drawings_of
from casebank.encounters.debriefing.forms import AdjustmentForm, CommentForm
from casebank.encounters.debriefing.links import links_of
from casebank.encounters.debriefing.shapes import Debrief
from casebank.encounters.models import Encounter
from casebank.encounters.policies import may_judge
from casebank.encounters.sheet import rows_of
from casebank.encounters.views.access import person


def debrief_page(
    request: HttpRequest,
    encounter: Encounter,
    *,
    comment: CommentForm | None = None,
    adjustment: AdjustmentForm | None = None,
    status: int = 200,
) -> HttpResponse:
    """The page; bound forms come back with what was typed."""
    log = queries.log_of(encounter)
    replay = replay_of(encounter, log)
    debrief = debrief_from(encounter, replay)
    links = links_of(debrief)
    rows = rows_of(queries.as_seen(encounter, log))
    is_own = encounter.student_id == person(request).pk
    context: dict[str, Any] = {
        "encounter": encounter,
        "case": replay.case.document,
        "debrief": debrief,
        "drawings": drawings_of(replay, debrief.pairs),
        "rows": [(row, links.get(row.seq, [])) for row in rows],
        "is_own": is_own,
        "may_judge": not is_own and bool(may_judge(person(request), encounter)),
        "comment_form": comment or CommentForm(initial={"position": len(debrief.comments)}),
        "adjustment_form": adjustment or _adjustment_form(debrief),
        "crumbs": _crumbs(encounter, is_own=is_own),
    }
    return render(request, "encounters/debrief.html", context, status=status)


def _adjustment_form(debrief: Debrief) -> AdjustmentForm:
    return AdjustmentForm(initial={"position": len(debrief.adjustments)})


def _crumbs(encounter: Encounter, *, is_own: bool) -> list[tuple[str, str]]:
    if is_own:
        return [("Patients", reverse("encounters:patients")), ("Debrief", "")]
    return [("Concluded encounters", reverse("encounters:concluded")),
            (f"Debrief of {encounter.student.name}", "")]  # fmt: skip
