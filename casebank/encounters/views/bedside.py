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
from casebank.encounters.forms import probabilities_from
from casebank.encounters.models import Encounter
from casebank.encounters.overrides import NONE, Overrides, overrides_from
from casebank.encounters.readback import read_back_of
from casebank.encounters.reading import AskedBack, picking, saying
from casebank.encounters.sheet import Row, rows_of
from casebank.encounters.views.access import person, practising
from casebank.encounters.views.context import line_context, sheet_context


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


@require_POST
@practising
def ask(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Do what was typed or picked; ask back or say what was not understood, free of charge."""
    text, choice = request.POST.get("text", ""), request.POST.get("step", "")
    after = _position(request.POST.get("after", ""))
    try:
        picks = _picks_in(request, pk)
        encounter, entries = actions.ask(
            encounter_id=pk,
            say=picking(choice, _asked_about(request), picks) if choice else saying(text, picks),
            by=person(request),
            key=actions.form_key(after, _what(choice or " ".join(text.lower().split()), picks)),
        )
    except AskedBack as back:
        return _asked_back(request, pk, text, back.words, back.choices)
    except EncounterError as error:
        return _asked_back(request, pk, text, str(error), ())
    if not request.htmx:  # type: ignore[attr-defined]
        address = reverse("encounters:sheet", args=[pk])
        return redirect(f"{address}#entry-{entries[-1].seq}" if entries else address)
    return _appended(request, encounter, after, entries)


def _picks_in(request: HttpRequest, pk: UUID) -> Overrides:
    """The technique picked by hand; EncounterError where the encounter is in words only."""
    picks = overrides_from(request.POST)
    if picks.changed and not queries.encounter_for(person(request), pk).cued:
        raise EncounterError("This encounter is in words only. Say the technique in your words.")
    return picks


def _asked_about(request: HttpRequest) -> str:
    """The words that the choice answers, though others may have been typed meanwhile."""
    return request.POST.get("asked") or request.POST.get("text", "")


def _what(said: str, picks: Overrides) -> str:
    return f"{said} | {picks.key}" if picks.changed else said


def _position(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 9 else 0


def _appended(
    request: HttpRequest, encounter: Encounter, after: int, entries: list[LogEntry]
) -> HttpResponse:
    """The rows the page does not have yet, the totals, and an empty request line."""
    rows = _rows_behind(encounter, after, entries)
    return render(request, "encounters/_asked.html", {**line_context(encounter), "rows": rows})


def _rows_behind(encounter: Encounter, after: int, entries: list[LogEntry]) -> list[Row]:
    """The rows behind a position: those just made, or read again where others came between."""
    if [entry.seq for entry in entries] != list(range(after + 1, encounter.last_seq + 1)):
        entries = queries.log_of(encounter, after)
    return rows_of(queries.as_seen(encounter, entries))


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
    picks = overrides_from(request.GET) if encounter.cued else NONE
    found = read_back_of(request.GET.get("text", ""), catalogue, state, picks)
    context = {"readings": found, "cued": encounter.cued}
    return render(request, "encounters/_read_back.html", context)


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
    after = _position(request.POST.get("after", str(encounter.last_seq - len(entries))))
    rows = _rows_behind(encounter, after, entries)
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
