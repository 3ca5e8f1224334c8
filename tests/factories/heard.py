"""The golden case of a heart that is heard: its catalogue, the case, logs, and a bed to stand at."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

from casebank.cases.actions import create_case, load_catalogue, move
from casebank.domain.casefile.compile import compile_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.encounter import engine
from casebank.domain.encounter.model import Entry, Request
from casebank.domain.encounter.naming import read_finding
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.encounters import actions

GOLDEN = Path(__file__).parents[1] / "golden" / "marking"
TEXTS = ("catalogue.toml", "signs.toml")
CLEAN = Request("hand-hygiene")
APEX = Request("heart-auscultate", {"site": "apex", "posture": "left-lateral"})
AXILLA = Request("heart-auscultate", {"site": "axilla", "posture": "left-lateral"})
NOTHING_HEARD = Request("heart-auscultate", {"site": "apex", "posture": "supine"})
FULL_WORDS = "pansystolic murmur grade 3 radiating to the axilla, and S3"


def golden_texts():
    """The golden catalogue with its names of signs."""
    return {name: (GOLDEN / name).read_text(encoding="utf-8") for name in TEXTS}


@cache
def golden_case(name):
    """A golden case, compiled: ``heard`` or ``described``."""
    text = (GOLDEN / f"{name}.case.json").read_text(encoding="utf-8")
    return compile_case(CaseDocument.model_validate_json(text), parse_catalogue(golden_texts()))


def golden_log(name):
    """A golden log, such as ``heard.named``."""
    rows = json.loads((GOLDEN / f"{name}.log.json").read_text(encoding="utf-8"))
    return tuple(Entry(row["seq"], row["kind"], row["payload"]) for row in rows)


def heard_log(*acts, end=None):
    """Entries and state of requests and readings, played by the engine; ``end`` concludes."""
    case = golden_case("heard")
    state, entries = engine.open_state(case), []
    for act in acts:
        if isinstance(act, Request):
            payload, state = engine.answer(case, state, act)
            kind = "request"
        else:
            payload, state = read_finding(case, state, act)
            kind = "reading"
        entries.append(Entry(state.last_seq, kind, payload))
    if end is not None:
        payload, state = engine.conclude(case, state, end, "Found.", "Next.")
        entries.append(Entry(state.last_seq, "conclusion", payload))
    return tuple(entries), state


def heard_bed(people):
    """The heard case, published."""
    load_catalogue(texts=golden_texts())
    text = (GOLDEN / "heard.case.json").read_text(encoding="utf-8")
    version = create_case(document=json.loads(text), by=people.author)
    for name, by in (
        ("submit", people.author),
        ("approve", people.reviewer),
        ("publish", people.author),
    ):
        version = move(version=version, name=name, by=by)
    return version


def heard_begun(people):
    """An encounter of the student with it."""
    return actions.begin(version=heard_bed(people), by=people.student)
