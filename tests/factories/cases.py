"""A small catalogue, a small valid document that uses it, and versions in any state."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from accounts.models import User
from casebank.cases.actions import create_case, load_catalogue, move
from casebank.cases.models import CaseVersion, CatalogueRelease

SMALL_CATALOGUE = """
system = "cardiovascular"

[[value]]
slot = "site"
slug = "apex"
label = "the apex"
[[value]]
slot = "site"
slug = "axilla"
label = "the axilla"
[[value]]
slot = "posture"
slug = "supine"
label = "lying flat"
[[value]]
slot = "posture"
slug = "left-lateral"
label = "rolled onto the left side"
[[value]]
slot = "effort"
slug = "light"
label = "light touch"
rank = 1
[[value]]
slot = "effort"
slug = "firm"
label = "firm pressure"
rank = 2

[[step]]
slug = "hand-hygiene"
label = "Clean your hands"
region = "general"
method = "treat"
minutes = 0.5
looks_for = "Nothing; it protects."
how = "Rub both hands."
provides = "hygiene"
synonyms = ["wash hands", "clean hands", "hand gel", "hand rub", "scrub", "sanitise"]
normal = [{text = "Your hands are clean."}]

[[step]]
slug = "heart-auscultate"
label = "Listen to the heart"
region = "chest"
method = "auscultate"
minutes = 2
looks_for = "Heart sounds and murmurs."
how = "Place the stethoscope."
synonyms = ["listen heart", "heart sounds", "auscultate heart", "murmur", "praecordium", "valves"]
normal = [{text = "Two heart sounds, nothing added."}]
[step.technique]
site = ["apex", "axilla"]
posture = ["supine", "left-lateral"]

[[step]]
slug = "apex-palpate"
label = "Feel the apex beat"
region = "chest"
method = "palpate"
minutes = 1
looks_for = "Place and character of the apex beat."
how = "Lay the hand flat."
synonyms = ["apex beat", "feel apex", "palpate apex", "cardiac impulse", "apical impulse", "thrust"]
normal = [{text = "The apex beat is in the fifth space."}]
[step.technique]
effort = ["light", "firm"]

[[diagnosis]]
slug = "mitral-regurgitation"
label = "Mitral regurgitation"
synonyms = ["mitral incompetence"]
[[diagnosis]]
slug = "aortic-stenosis"
label = "Aortic stenosis"
"""
SMALL_TEXTS = {"small.toml": SMALL_CATALOGUE}

SMALL_DOCUMENT: dict[str, Any] = {
    "schema_version": 1,
    "slug": "breathless-on-the-stairs",
    "title": "Breathless on the stairs",
    "patient": {"name": "Vera Quill", "age": 67, "sex": "female", "occupation": "bookbinder"},
    "opening": "She sits upright and pauses between sentences.",
    "stages": [
        {
            "id": "start",
            "label": "At the start",
            "moves": [{"to": "later", "after_minutes": 12.5}],
        },
        {"id": "later", "label": "Later", "notice": "She is more at ease."},
    ],
    "presentation": {
        "complaint": "breathlessness on effort",
        "setting": "a cardiac clinic",
        "source": "illustrative",
    },
    "hypotheses": [
        {"diagnosis": "mitral-regurgitation", "prior": 0.625, "must_not_miss": True},
        {"diagnosis": "aortic-stenosis", "prior": 0.375},
    ],
    "truth": ["mitral-regurgitation"],
    "findings": [
        {
            "id": "murmur",
            "step": "heart-auscultate",
            "label": "Murmur through systole",
            "answers": [
                {
                    "when": {"site": "apex | axilla", "posture": "left-lateral"},
                    "strength": "clear",
                    "says": "A blowing sound through systole.",
                    "outcome": "present",
                },
                {"strength": "absent"},
            ],
            "evidence": {
                "source": "Invented for this test 2020, illustrative",
                "group": "murmurs",
                "ratios": {
                    "targets": ["mitral-regurgitation"],
                    "positive": 5.4,
                    "negative": 0.3,
                },
            },
        },
        {
            "id": "displaced-apex",
            "step": "apex-palpate",
            "label": "Displaced apex beat",
            "stages": ["start"],
            "answers": [
                {
                    "when": {"effort": ">= firm"},
                    "strength": "faint",
                    "says": "The beat lies in the sixth space.",
                    "outcome": "displaced",
                },
                {"strength": "absent", "outcome": "in-place"},
            ],
            "evidence": {
                "source": "illustrative",
                "table": [
                    {
                        "outcome": "displaced",
                        "given": {"mitral-regurgitation": 0.55, "aortic-stenosis": 0.25},
                    },
                    {
                        "outcome": "in-place",
                        "given": {"mitral-regurgitation": 0.45, "aortic-stenosis": 0.75},
                    },
                ],
            },
        },
    ],
    "scheme": {
        "essential": [
            {
                "id": "listen",
                "step": "heart-auscultate",
                "when": {"site": "apex"},
                "well": {"posture": "left-lateral"},
                "weight": 2,
                "again_after": 20,
                "why": "The murmur decides.",
            }
        ],
        "routine": [{"id": "clean", "step": "hand-hygiene", "why": "Before touching anyone."}],
        "unsafe": [
            {
                "step": "apex-palpate",
                "when": {"effort": "firm"},
                "stages": ["later"],
                "why": "It hurts her then.",
            }
        ],
        "order": [{"before": "clean", "after": "listen", "why": "Hands first."}],
        "demands": ["hygiene"],
        "weights": {
            "coverage": 30,
            "technique": 20,
            "order": 10,
            "interpretation": 10,
            "reasoning": 20,
            "economy": 5,
            "safety": 5,
        },
        "minutes": 15,
        "surcharge_budget": 12.5,
    },
    "teaching": {
        "summary": "A leaking valve, heard best on the left side.",
        "points": ["Roll the patient.\nThen listen again.", "Follow the sound."],
        "sources": ["Invented for this test"],
    },
    "cautions": ["She tires quickly."],
}


def small_document(**changes: Any) -> dict[str, Any]:
    """The small document, a fresh copy with these top-level changes."""
    return deepcopy(SMALL_DOCUMENT) | changes


def small_release() -> CatalogueRelease:
    """The small catalogue, stored."""
    return load_catalogue(texts=SMALL_TEXTS)[0]


def draft(author: User, **changes: Any) -> CaseVersion:
    """A draft of the small document."""
    return create_case(document=small_document(**changes), by=author)


def submitted(author: User, **changes: Any) -> CaseVersion:
    """The same, submitted."""
    small_release()
    return move(version=draft(author, **changes), name="submit", by=author)


def approved(author: User, reviewer: User, **changes: Any) -> CaseVersion:
    """The same, approved."""
    return move(version=submitted(author, **changes), name="approve", by=reviewer)


def published(author: User, reviewer: User, **changes: Any) -> CaseVersion:
    """The same, published."""
    return move(version=approved(author, reviewer, **changes), name="publish", by=author)


def in_state(state: str, author: User, reviewer: User) -> CaseVersion:
    """A version brought to this state by legal moves."""
    way = {
        "draft": [],
        "submitted": [],
        "returned": [("return", reviewer)],
        "approved": [("approve", reviewer)],
        "published": [("approve", reviewer), ("publish", author)],
        "retired": [("approve", reviewer), ("publish", author), ("retire", author)],
    }[state]
    small_release()
    version = draft(author) if state == "draft" else submitted(author)
    for name, by in way:
        version = move(version=version, name=name, by=by, comment="Please look again.")
    return version
