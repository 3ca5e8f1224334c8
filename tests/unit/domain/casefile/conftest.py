"""A tiny catalogue and a small good case: every rule is tested by spoiling a copy of it."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.model import Catalogue

TINY = """
system = "tiny"
value = [
  { slot = "site", slug = "apex", label = "apex" },
  { slot = "site", slug = "base", label = "base" },
  { slot = "posture", slug = "sitting", label = "sitting" },
  { slot = "posture", slug = "supine", label = "flat" },
  { slot = "effort", slug = "light", label = "light", rank = 1 },
  { slot = "effort", slug = "firm", label = "firm", rank = 2 },
]
diagnosis = [
  { slug = "leaky-valve", label = "Leaking valve of Orme", synonyms = ["orme valve", "LVO"] },
  { slug = "stiff-wall", label = "Stiff wall", synonyms = ["rigid wall"] },
  { slug = "nothing-wrong", label = "Nothing wrong" },
]

[[step]]
slug = "listen"
label = "Listen"
region = "chest"
method = "auscultate"
minutes = 1
looks_for = "sounds"
how = "listen"
synonyms = ["a", "b", "c", "d", "e", "f"]
normal = [{ text = "Clear." }]
technique = { site = ["apex", "base"], posture = ["sitting", "supine"] }

[[step]]
slug = "press"
label = "Press"
region = "leg"
method = "palpate"
minutes = 1
looks_for = "pits"
how = "press"
synonyms = ["a", "b", "c", "d", "e", "f"]
normal = [{ text = "No pit." }]
technique = { effort = ["light", "firm"] }

[[step]]
slug = "drug"
label = "Give the drug"
region = "arm"
method = "treat"
minutes = 1
looks_for = "nothing"
how = "give"
synonyms = ["a", "b", "c", "d", "e", "f"]
normal = [{ text = "Given." }]

[[step]]
slug = "both"
label = "Listen and press"
region = "body"
method = "auscultate"
minutes = 2
looks_for = "all"
how = "do both"
synonyms = ["a", "b", "c", "d", "e", "f"]
parts = ["listen", "press"]
"""

GOOD: dict[str, Any] = {
    "schema_version": 1,
    "slug": "mill-lane",
    "title": "A visitor from Mill Lane",
    "patient": {
        "name": "Oda Quillfen",
        "age": 70,
        "sex": "female",
        "occupation": "retired potter",
    },
    "opening": "Short of breath on stairs.",
    "stages": [
        {
            "id": "first",
            "label": "As found",
            "moves": [
                {"to": "worse", "after_minutes": 10},
                {"to": "better", "on_step": "drug"},
            ],
        },
        {"id": "worse", "label": "Worse", "notice": "She looks paler.", "moves": []},
        {"id": "better", "label": "Better", "notice": "She looks pinker.", "moves": []},
    ],
    "presentation": {
        "complaint": "breathlessness on stairs",
        "setting": "a clinic",
        "source": "illustrative",
    },
    "hypotheses": [
        {"diagnosis": "leaky-valve", "prior": 0.5},
        {"diagnosis": "stiff-wall", "prior": 0.3, "must_not_miss": True},
        {"diagnosis": "nothing-wrong", "prior": 0.2},
    ],
    "truth": ["leaky-valve"],
    "findings": [
        {
            "id": "blow",
            "step": "listen",
            "label": "Blowing sound",
            "answers": [
                {
                    "when": {"site": "apex", "posture": "sitting"},
                    "strength": "clear",
                    "says": "A blowing sound.",
                    "outcome": "present",
                },
                {
                    "when": {"site": "apex"},
                    "strength": "faint",
                    "says": "Something faint.",
                },
                {"strength": "absent"},
            ],
            "evidence": {
                "source": "illustrative",
                "ratios": {"targets": ["leaky-valve"], "positive": 8, "negative": 0.3},
                "assumed": "A stiff wall and nothing wrong are taken to be alike.",
            },
        },
        {
            "id": "pit",
            "step": "press",
            "label": "Pit",
            "stages": ["first", "worse"],
            "answers": [
                {
                    "when": {"effort": ">= firm"},
                    "strength": "clear",
                    "says": "A pit.",
                    "outcome": "deep",
                },
                {"strength": "absent"},
            ],
            "evidence": {
                "source": "Quill, Invented Journal 1999",
                "group": "fluid",
                "table": [
                    {
                        "outcome": "deep",
                        "given": {"leaky-valve": 0.5, "stiff-wall": 0.4, "nothing-wrong": 0.1},
                    },
                    {
                        "outcome": "none",
                        "given": {"leaky-valve": 0.5, "stiff-wall": 0.6, "nothing-wrong": 0.9},
                    },
                ],
            },
        },
    ],
    "scheme": {
        "essential": [
            {
                "id": "hear",
                "step": "listen",
                "when": {"site": "apex"},
                "well": {"posture": "sitting"},
                "weight": 2,
                "why": "The sound decides.",
            }
        ],
        "routine": [{"id": "feel", "step": "press", "why": "Fluid gathers."}],
        "unsafe": [
            {"step": "drug", "stages": ["worse"], "why": "It would lower the pressure more."}
        ],
        "order": [{"before": "feel", "after": "hear", "why": "Touch before listening."}],
        "weights": {
            "coverage": 25,
            "technique": 15,
            "order": 5,
            "interpretation": 10,
            "reasoning": 25,
            "economy": 10,
            "safety": 10,
        },
        "minutes": 10,
        "surcharge_budget": 10,
    },
    "teaching": {"summary": "A valve leaks.", "points": ["Sit her up."]},
}


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return parse_catalogue({"tiny.toml": TINY})


@pytest.fixture
def good() -> dict[str, Any]:
    return copy.deepcopy(GOOD)
