"""The command that reads free words: one JSON line a text, without a database."""

from __future__ import annotations

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command


def printed(*arguments):
    out = StringIO()
    call_command("resolve", *arguments, stdout=out)
    return [json.loads(line) for line in out.getvalue().splitlines()]


def test_one_text_gives_one_line():
    (found,) = printed("bell at the apex, rolled to the left, breath held out")
    assert found["step"] == "auscultate-heart"
    assert found["technique"]["posture"] == "left-lateral"
    assert found["full_technique"]["timing"] == "untimed"
    assert 0 < found["confidence"] <= 1
    assert found["alternatives"] == []
    assert found["not_understood"] == []


def test_a_batch_gives_a_line_for_each_line_even_an_empty_one(tmp_path):
    batch = tmp_path / "texts.txt"
    batch.write_text("JVP\n\nflibbertigibbet\n", encoding="utf-8")
    assert [one["step"] for one in printed("--batch", str(batch))] == ["jvp-height", None, None]


def test_a_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(CommandError, match=r"nothing\.txt cannot be read"):
        printed("--batch", str(tmp_path / "nothing.txt"))


def test_neither_text_nor_file_says_what_to_give():
    with pytest.raises(CommandError, match="Give either one text"):
        printed()
