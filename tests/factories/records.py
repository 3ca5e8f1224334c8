"""Records of the small case and of the shipped ones, played by the engine without a database."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

from casebank.domain.casefile.compile import compile_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.encounter import engine
from casebank.domain.encounter.model import Entry, Request
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.marking.mark import replayed
from tests.factories.cases import SMALL_TEXTS, small_document

FIXTURES = Path(__file__).parents[2] / "fixtures"
SHIPPED = ("allotment-steps", "bed-nine-at-three", "form-for-the-rowing-club")


@cache
def shipped_catalogue():
    texts = {p.name: p.read_text(encoding="utf-8") for p in (FIXTURES / "catalogue").glob("*.toml")}
    return parse_catalogue(texts)


@cache
def shipped(name):
    document = json.loads((FIXTURES / "cases" / f"{name}.json").read_text(encoding="utf-8"))
    return compile_case(CaseDocument.model_validate(document), shipped_catalogue())


def small(**changes):
    document = CaseDocument.model_validate(small_document(**changes))
    return compile_case(document, parse_catalogue(SMALL_TEXTS))


def played(case, *acts, end=None):
    """The record of requests and, as dicts, stated differentials; ``end`` concludes."""
    state, entries = engine.open_state(case), []
    for act in acts:
        if isinstance(act, dict):
            payload, state = engine.state_differential(case, state, act)
            kind = "differential"
        else:
            request = act if isinstance(act, Request) else Request(act)
            payload, state = engine.answer(case, state, request)
            kind = "request"
        entries.append(Entry(state.last_seq, kind, payload))
    if end is not None:
        payload, state = engine.conclude(case, state, end, "Seen.", "")
        entries.append(Entry(state.last_seq, "conclusion", payload))
    return replayed(case, tuple(entries))
