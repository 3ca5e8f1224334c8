"""Phrasings written before the synonyms were read: how many are understood, and none on the wrong
side. The half of them whose hash is even was used for tuning, the other half only for measuring."""

from __future__ import annotations

import hashlib
import tomllib
from pathlib import Path

import pytest

from casebank.core.fixtures import load_resolver
from casebank.domain.examination.resolution import Status

ROWS = tomllib.loads(
    (Path(__file__).parent / "phrasings_cardiovascular.toml").read_text(encoding="utf-8")
)["phrasing"]


def half(number):
    return [row for row in ROWS if hashlib.sha256(row["text"].encode()).digest()[0] % 2 == number]


def measured(rows):
    found = [(row, load_resolver().resolve(row["text"])) for row in rows]
    step = [row for row, got in found if [one.step for one in got.requests] == [row["step"]]]
    full = [
        row
        for row, got in found
        if row in step and dict(got.requests[0].technique) == row["technique"]
    ]
    asked = [row for row, got in found if got.status is Status.ASK_BACK]
    return len(step) / len(rows), len(full) / len(rows), len(asked) / len(rows)


def test_the_tuned_half_is_understood():
    step, full, asked = measured(half(0))
    assert step >= 0.97
    assert full >= 0.96
    assert asked <= 0.03


def test_the_other_half_is_understood_nearly_as_well():
    step, full, asked = measured(half(1))
    assert step >= 0.92
    assert full >= 0.91
    assert asked <= 0.05


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["text"][:60])
def test_no_side_is_ever_wrong(row):
    for one in load_resolver().resolve(row["text"]).requests:
        if one.step == row["step"]:
            assert one.technique.get("side") == row["technique"].get("side")
