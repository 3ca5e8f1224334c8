"""The shipped cases, compiled with the shipped catalogue."""

from __future__ import annotations

from pathlib import Path

from casebank.core.fixtures import load_catalogue
from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.compile import compile_case

ROOT = Path(__file__).parents[2]
TEXTS = {
    file.name: file.read_text(encoding="utf-8")
    for file in sorted((ROOT / "fixtures" / "cases").glob("*.json"))
}
CATALOGUE = load_catalogue()
CASES = {
    name: compile_case(document, CATALOGUE)
    for name, text in TEXTS.items()
    if (document := check_case(text, CATALOGUE).document)
}
VALVE, NIGHT, FORM = (
    "allotment-steps.json",
    "bed-nine-at-three.json",
    "form-for-the-rowing-club.json",
)
