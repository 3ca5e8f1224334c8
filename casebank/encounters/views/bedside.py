"""The sheet: what was done, the request line, the working differential."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from casebank.core.charts.body_views import VIEWS
from casebank.domain.encounter.codec import state_from_json
from casebank.domain.encounter.model import EncounterError
from casebank.domain.encounter.model import Entry as LogEntry
from casebank.encounters import actions, queries
from casebank.encounters.forms import bars_of, probabilities_from
from casebank.encounters.models import Encounter
from casebank.encounters.reading import AskedBack, picking, read_back_of, saying
from casebank.encounters.sheet import rows_of
from casebank.encounters.views.access import person, practising


@require_GET
@practising
def sheet(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The whole sheet of this person's encounter."""
    encounter = queries.encounter_for(person(request), pk)
    context = {
        **sheet_context(encounter),
        "rows": rows_of(queries.sheet_of(encounter)),
        "case": queries.case_of(encounter).document,
        "views": VIEWS if encounter.cued else (),
        "text": request.GET.get("text", ""),
    }
    return render(request, "encounters/sheet.html", context)


def sheet_context(encounter: Encounter) -> dict[str, Any]:
    """What every part of the sheet needs."""
    catalogue = queries.case_of(encounter).catalogue
    state = state_from_json(encounter.live)
    return {
        "encounter": encounter,
        "minutes": encounter.minutes,
        "surcharge": encounter.surcharge,
        "hypotheses": bars_of(state.differential, catalogue),
        "ask_url": reverse("encounters:ask", args=[encounter.pk]),
        "readback_url": reverse("encounters:read-back", args=[encounter.pk]),
        "differential_url": reverse("encounters:differential", args=[encounter.pk]),
        "suggest_steps_url": reverse("encounters:suggest-steps") if encounter.cued else "",
        "suggest_diagnoses_url": reverse("encounters:suggest-diagnoses"),
        "position": encounter.last_seq,
    }


@require_POST
@practising
def ask(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Do what was typed or picked; ask back or say what was not understood, free of charge."""
    text, choice = request.POST.get("text", ""), request.POST.get("step", "")
    after = _position(request.POST.get("after", ""))
    try:
        encounter, entries = actions.ask(
            encounter_id=pk,
            say=picking(choice, text) if choice else saying(text),
            by=person(request),
            key=actions.form_key(after, choice or " ".join(text.lower().split())),
        )
    except AskedBack as back:
        return _asked_back(request, pk, text, back.words, back.choices)
    except EncounterError as error:
        return _asked_back(request, pk, text, str(error), ())
    if not request.htmx:  # type: ignore[attr-defined]
        address = reverse("encounters:sheet", args=[pk])
        return redirect(f"{address}#entry-{entries[-1].seq}" if entries else address)
    return _appended(request, encounter, after, entries)


def _position(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 9 else 0


def _appended(
    request: HttpRequest, encounter: Encounter, after: int, entries: list[LogEntry]
) -> HttpResponse:
    """The rows the page does not have yet, the totals, and an empty request line."""
    if [entry.seq for entry in entries] != list(range(after + 1, encounter.last_seq + 1)):
        entries = queries.log_of(encounter, after)
    rows = rows_of(queries.as_seen(encounter, entries))
    return render(request, "encounters/_asked.html", {**sheet_context(encounter), "rows": rows})


def _asked_back(
    request: HttpRequest, pk: UUID, text: str, words: str, choices: tuple[Any, ...]
) -> HttpResponse:
    encounter = queries.encounter_for(person(request), pk)
    context = {
        **sheet_context(encounter),
        "text": text,
        "question" if choices else "error": words,
        "choices": [(choice.value, choice.label) for choice in choices],
    }
    if request.htmx:  # type: ignore[attr-defined]
        return render(request, "encounters/_request.html", context)
    context["rows"] = rows_of(queries.sheet_of(encounter))
    context["case"] = queries.case_of(encounter).document
    return render(request, "encounters/sheet.html", context, status=422)


@require_GET
@practising
def read_back(request: HttpRequest, pk: UUID) -> HttpResponse:
    """How the words typed so far are read; knows the last request, never the case."""
    encounter = queries.encounter_for(person(request), pk)
    catalogue = queries.case_of(encounter).catalogue
    state = state_from_json(encounter.live)
    found = read_back_of(request.GET.get("text", ""), catalogue, state)
    return render(request, "encounters/_read_back.html", {"readings": found})


@require_POST
@practising
def differential(request: HttpRequest, pk: UUID) -> HttpResponse:
    """State the working differential."""
    encounter = queries.encounter_for(person(request), pk)
    catalogue = queries.case_of(encounter).catalogue
    try:
        stated = probabilities_from(request.POST, catalogue)
        encounter, entries = actions.state_differential(
            encounter_id=pk,
            probabilities=stated,
            by=person(request),
            key=actions.form_key(encounter.last_seq, f"differential {sorted(stated.items())}"),
        )
    except EncounterError as error:
        return _differential_refused(request, encounter, str(error))
    if not request.htmx:  # type: ignore[attr-defined]
        return redirect(reverse("encounters:sheet", args=[pk]) + "#differential")
    rows = rows_of(queries.as_seen(encounter, entries))
    context = {**sheet_context(encounter), "rows": rows, "saved": "Stated."}
    return render(request, "encounters/_differential.html", context)


def _differential_refused(request: HttpRequest, encounter: Encounter, words: str) -> HttpResponse:
    kept = [
        (name.removeprefix("p-"), value)
        for name, value in request.POST.items()
        if name.startswith("p-")
    ]
    catalogue = queries.case_of(encounter).catalogue
    shown = [
        {"slug": slug, "label": catalogue.diagnoses[slug].label, "percent": value}
        for slug, value in kept
        if slug in catalogue.diagnoses
    ]
    context = {
        **sheet_context(encounter),
        "hypotheses": shown,
        "differential_error": words,
        "add": request.POST.get("add", ""),
    }
    if request.htmx:  # type: ignore[attr-defined]
        return render(request, "encounters/_differential.html", context)
    context["rows"] = rows_of(queries.sheet_of(encounter))
    context["case"] = queries.case_of(encounter).document
    return render(request, "encounters/sheet.html", context, status=422)
