"""``manage.py check_case``: what it prints, and how it ends; without a database."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

CASES = Path(__file__).parents[2] / "fixtures" / "cases"
CASE = CASES / "form-for-the-rowing-club.json"


def run(file):
    out = io.StringIO()
    try:
        call_command("check_case", str(file), stdout=out)
    except SystemExit as ending:
        return ending.code, out.getvalue()
    return 0, out.getvalue()


def spoiled(tmp_path, **changes):
    file = tmp_path / "case.json"
    file.write_text(json.dumps(json.loads(CASE.read_text()) | changes), encoding="utf-8")
    return file


def test_a_fit_case_ends_with_0():
    assert run(CASE) == (0, f"{CASE}: 0 errors, 0 warnings\n")


def test_an_error_is_printed_with_its_place_and_ends_with_1(tmp_path):
    code, out = run(spoiled(tmp_path, truth=["gout"]))
    assert code == 1
    assert "error: truth[0]: there is no hypothesis 'gout'" in out
    assert "1 errors, 0 warnings" in out


def test_a_warning_alone_ends_with_0(tmp_path):
    code, out = run(spoiled(tmp_path, title="A murmur before the season"))
    assert code == 0
    assert "warning: title: holds 'murmur'" in out


def test_text_that_is_no_json_is_a_problem_of_the_document(tmp_path):
    (tmp_path / "case.json").write_text("{")
    code, out = run(tmp_path / "case.json")
    assert code == 1
    assert "error: (document): is not valid JSON" in out


def test_a_missing_file_and_a_file_in_another_encoding_are_told(tmp_path):
    with pytest.raises(CommandError, match="cannot be read"):
        run(tmp_path / "none.json")
    (tmp_path / "case.json").write_bytes(b"\xff\xfe\xff")
    with pytest.raises(CommandError, match="save it as UTF-8"):
        run(tmp_path / "case.json")
