"""What was heard and seen: the files of it, and the student's naming of it."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from casebank.core.http.ranges import ranged
from casebank.domain.encounter.model import EncounterError
from casebank.domain.encounter.perceive import Medium
from casebank.encounters import actions, clips, queries
from casebank.encounters import deciding as decided
from casebank.encounters.media import media_in, place_of
from casebank.encounters.policies import readable_debriefs
from casebank.encounters.reading import AskedBack, Choice
from casebank.encounters.sheet import FindingOnSheet, finding_named, rows_of
from casebank.encounters.views.access import person, practising
from casebank.encounters.views.context import sheet_context

TYPES = {"flac": "audio/flac", "wav": "audio/wav", "svg": "image/svg+xml"}


@require_safe
@practising
def media(request: HttpRequest, token: str, ending: str) -> HttpResponse:
    """A sound, trace or picture of a logged request, to whoever may read that sheet."""
    place = place_of(token)
    readable = readable_debriefs(person(request))
    encounter = readable.filter(pk=place.encounter).first() if place else None
    entry = queries.request_at(encounter, place.seq) if encounter and place else None
    if encounter is None or entry is None or place is None:
        raise Http404
    given = media_in(queries.case_of(encounter), entry.payload)
    if not 0 <= place.index < len(given):
        raise Http404
    wanted = (token, ending, place.rendition)
    return _file(request, given[place.index], entry.payload["technique"], wanted)


@require_safe
@practising
def deciding(request: HttpRequest, token: str, ending: str) -> HttpResponse:
    """A sign as the right technique shows it, to whoever may read that debrief: never before."""
    place = decided.place_of(token)
    ended = readable_debriefs(person(request)).filter(concluded_at__isnull=False)
    encounter = ended.filter(pk=place.encounter).first() if place else None
    if encounter is None or place is None:
        raise Http404
    shown = decided.shown_at(queries.case_of(encounter), place.finding)
    if shown is None:
        raise Http404
    return _file(request, shown.medium, shown.technique, (token, ending, place.rendition))


def _file(
    request: HttpRequest,
    medium: Medium,
    technique: Mapping[str, str],
    wanted: tuple[str, str, clips.Rendition],
) -> HttpResponse:
    """The file under a neutral name; ``wanted`` is token, ending and rendition."""
    token, ending, rendition = wanted
    if ending not in clips.endings_of(medium, rendition):
        raise Http404
    data = clips.clip(medium, technique, ending, rendition)
    answer = ranged(request, data, TYPES[ending], _etag(token, ending))
    answer["Cache-Control"] = "private, max-age=3600"
    answer["Content-Disposition"] = f'inline; filename="finding.{ending}"'
    return answer


def _etag(token: str, ending: str) -> str:
    """Of the address and the model's version: a digest of the parameters could be looked up."""
    text = f"{token}.{ending}.{clips.MODEL_VERSION}"
    return f'"{hashlib.sha256(text.encode()).hexdigest()[:32]}"'


@require_POST
@practising
def reading(request: HttpRequest, pk: UUID, seq: int, index: int) -> HttpResponse:
    """Note what the student says it is; ask back what is doubtful. Never says right or wrong."""
    text = " ".join(request.POST.get("reading", "").split())
    try:
        actions.read_finding(
            encounter_id=pk, entry=seq, medium=index, text=text, by=person(request)
        )
    except AskedBack as back:
        return _answer(request, pk, (seq, index), text, back.words, back.choices)
    except EncounterError as error:
        return _answer(request, pk, (seq, index), text, str(error), ())
    if not request.htmx:  # type: ignore[attr-defined]
        return redirect(reverse("encounters:sheet", args=[pk]) + f"#entry-{seq}")
    return _answer(request, pk, (seq, index), "", "", ())


def _answer(
    request: HttpRequest,
    pk: UUID,
    place: tuple[int, int],
    text: str,
    words: str,
    choices: tuple[Choice, ...],
) -> HttpResponse:
    """The finding again; without scripts the whole sheet, which then says what is doubtful."""
    encounter = queries.encounter_for(person(request), pk)
    rows = rows_of(queries.sheet_of(encounter))
    finding = finding_named(rows, *place)
    if finding is None:
        raise Http404
    doubtful = _doubtful(finding, text, words, choices)
    if request.htmx:  # type: ignore[attr-defined]
        return render(request, "_components/sheet_finding.html", {"finding": doubtful})
    context = {
        **sheet_context(encounter),
        "rows": [row.with_finding(doubtful) for row in rows],
        "case": queries.case_of(encounter).document,
    }
    return render(request, "encounters/sheet.html", context, status=422)


def _doubtful(
    finding: FindingOnSheet, text: str, words: str, choices: tuple[Choice, ...]
) -> FindingOnSheet:
    return finding.asked_back(text, words, tuple(choice.value for choice in choices))
