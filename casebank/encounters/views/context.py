"""What the parts of the sheet are given: the request line alone, or the whole sheet."""

from __future__ import annotations

from functools import cache
from typing import Any

from django.urls import reverse

from casebank.domain.encounter.codec import state_from_json
from casebank.encounters import queries
from casebank.encounters.forms import bars_of
from casebank.encounters.models import Encounter


@cache
def _fixed(name: str) -> str:
    return reverse(f"encounters:{name}")


def line_context(encounter: Encounter) -> dict[str, Any]:
    """What the request line and the totals need, and nothing that costs more."""
    here = reverse("encounters:sheet", args=[encounter.pk])
    return {
        "encounter": encounter,
        "minutes": encounter.minutes,
        "surcharge": encounter.surcharge,
        "position": encounter.last_seq,
        # The addresses below the sheet's, as ``urls`` lays them out.
        "ask_url": f"{here}ask",
        "readback_url": f"{here}read-back",
        "steps_url": f"{here}steps" if encounter.cued else "",
        "suggest_steps_url": _fixed("suggest-steps") if encounter.cued else "",
    }


def sheet_context(encounter: Encounter) -> dict[str, Any]:
    """What the whole sheet needs beside its rows."""
    catalogue = queries.case_of(encounter).catalogue
    state = state_from_json(encounter.live)
    return {
        **line_context(encounter),
        "hypotheses": bars_of(state.differential, catalogue),
        "differential_url": reverse("encounters:differential", args=[encounter.pk]),
        "suggest_diagnoses_url": _fixed("suggest-diagnoses"),
    }
