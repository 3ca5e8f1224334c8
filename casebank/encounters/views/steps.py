"""Another way to a request, where cues are allowed: steps by region, system or site, as forms.

Lists come from the catalogue alone and are the same for every patient. Works without scripts.
"""

from __future__ import annotations

import json
from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET

from casebank.cases.catalogue_search import found_by_words
from casebank.domain.examination import browse
from casebank.domain.examination.model import Catalogue, Step
from casebank.encounters import queries
from casebank.encounters.models import Encounter
from casebank.encounters.overrides import choices_of
from casebank.encounters.views.access import person, practising


@require_GET
@practising
def steps(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The steps of a region, system or site, or found by words; without any, what there is."""
    encounter = _cued(request, pk)
    if encounter.concluded_at is not None:
        return redirect("encounters:sheet", pk=pk)
    catalogue = queries.case_of(encounter).catalogue
    words = request.GET.get("q", "").replace("\0", "").strip()[:100]
    title, found = _chosen(request.GET, words, catalogue)
    context = {
        **_bedside(encounter),
        "title": title,
        "words": words,
        "groups": browse.by_method(found),
        "picked": _picked(request.GET),
        "systems": browse.systems(catalogue),
        "regions": browse.regions(catalogue),
    }
    return render(request, "encounters/steps.html", context)


@require_GET
@practising
def step(request: HttpRequest, pk: UUID, slug: str) -> HttpResponse:
    """One step as a plain form: its slots, and the button that does it."""
    encounter = _cued(request, pk)
    if encounter.concluded_at is not None:
        return redirect("encounters:sheet", pk=pk)
    catalogue = queries.case_of(encounter).catalogue
    if slug not in catalogue.steps:
        raise Http404
    found = catalogue.steps[slug]
    parts = [catalogue.steps[part] for part in found.parts]
    context = {
        **_bedside(encounter),
        "step": found,
        "parts": parts,
        "minutes": sum(part.minutes for part in parts) or found.minutes,
        "choice": json.dumps({"step": slug, "all": True} if parts else {"step": slug}),
        "choices": choices_of(found, {}, _taken(found, request.GET), catalogue),
        "picked": _picked(request.GET),
    }
    return render(request, "encounters/step.html", context)


def _cued(request: HttpRequest, pk: UUID) -> Encounter:
    """This person's encounter; Http404 where it is in words only."""
    encounter = queries.encounter_for(person(request), pk)
    if not encounter.cued:
        raise Http404
    return encounter


def _bedside(encounter: Encounter) -> dict[str, Any]:
    case = queries.case_of(encounter).document
    return {
        "encounter": encounter,
        "case": case,
        "position": encounter.last_seq,
        "ask_url": reverse("encounters:ask", args=[encounter.pk]),
        "sheet_url": reverse("encounters:sheet", args=[encounter.pk]),
        "steps_url": reverse("encounters:steps", args=[encounter.pk]),
    }


def _chosen(query: QueryDict, words: str, catalogue: Catalogue) -> tuple[str, tuple[Step, ...]]:
    """The heading and the steps that the query asks for; Http404 for a shelf that is not there."""
    if words:
        return f"Steps with “{words}” in a name", found_by_words(catalogue, words)
    if site := query.get("site"):
        return _at_site(site, query.get("side", ""), catalogue)
    if region := query.get("region"):
        return _shelf(browse.of_region(catalogue, region), "region")
    if system := query.get("system"):
        return _shelf(browse.of_system(catalogue, system), "system")
    return "", ()


def _shelf(found: tuple[Step, ...], kind: str) -> tuple[str, tuple[Step, ...]]:
    if not found:
        raise Http404
    return browse.shelf_title(getattr(found[0], kind)), found


def _at_site(site: str, side: str, catalogue: Catalogue) -> tuple[str, tuple[Step, ...]]:
    found = browse.at_site(catalogue, site)
    if not found:
        raise Http404
    label = catalogue.value("site", site).label
    known_side = catalogue.values.get(("side", side))
    name = f"{label}, {known_side.label}" if known_side else label
    return browse.shelf_title(name), found


def _picked(query: QueryDict) -> str:
    """Site and side as a query, handed on from the list to the form."""
    kept = {name: query[name][:64] for name in ("site", "side") if query.get(name)}
    return f"?{urlencode(kept)}" if kept else ""


def _taken(step: Step, query: QueryDict) -> dict[str, str]:
    """What of the query the step takes as its technique."""
    asked = ((taken, str(query.get(taken.slot, ""))) for taken in step.slots)
    return {taken.slot: value for taken, value in asked if value in taken.values}
