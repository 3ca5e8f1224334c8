"""What holds for the whole tree: settings fit for the open, small files, and no finding in a page."""

from __future__ import annotations

import json
import os
import string
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LONGEST = 300
NOT_OURS = {"vendor", "migrations", "phrasings", "__pycache__"}
CASES = {
    file.name: json.loads(file.read_text(encoding="utf-8"))
    for file in sorted((ROOT / "fixtures" / "cases").glob("*.json"))
}


def ours(*folders, kinds):
    files = (file for folder in folders for file in (ROOT / folder).rglob("*"))
    return [
        file
        for file in files
        if file.suffix in kinds and not NOT_OURS.intersection(file.relative_to(ROOT).parts)
    ]


def test_no_file_is_longer_than_300_lines():
    files = ours("casebank", "accounts", "tests", kinds={".py", ".css", ".js"})
    lengths = {str(f.relative_to(ROOT)): len(f.read_text("utf-8").splitlines()) for f in files}
    assert len(files) > 100
    assert {name: n for name, n in lengths.items() if n > LONGEST} == {}


def test_the_settings_of_a_site_in_the_open_pass_djangos_own_check():
    # The browser tests of the same run set one of Django's own for themselves.
    environment = {k: v for k, v in os.environ.items() if not k.startswith("DJANGO_ALLOW")}
    answer = subprocess.run(
        [sys.executable, "manage.py", "check", "--deploy", "--fail-level", "WARNING"],
        cwd=ROOT,
        env=environment
        | {"SITE_URL": "https://casebank.example", "SECRET_KEY": string.printable[:80]},
        capture_output=True,
        text=True,
        check=False,
    )
    assert answer.returncode == 0, answer.stderr


@pytest.mark.parametrize("name", CASES)
def test_no_template_and_no_static_text_says_what_is_found(name):
    case = CASES[name]
    told = [answer["says"] for finding in case["findings"] for answer in finding["answers"]
            if answer.get("says")]  # fmt: skip
    labels = [finding["label"] for finding in case["findings"]]
    notices = [stage["notice"] for stage in case["stages"] if stage.get("notice")]
    files = ours("templates", "casebank/static", kinds={".html", ".txt", ".js", ".css", ".svg"})
    pages = {str(f.relative_to(ROOT)): f.read_text("utf-8").casefold() for f in files}
    # A label of one word ("Normal") is a word, not a finding.
    secrets = [*told, *notices, *(label for label in labels if len(label.split()) > 2)]
    assert len(secrets) > 20
    assert [(f, s) for f, page in pages.items() for s in secrets if s.casefold() in page] == []
