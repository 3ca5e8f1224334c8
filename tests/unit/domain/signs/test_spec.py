"""Specifications: what is accepted, and how a wrong one is refused."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from casebank.domain.signs import SignError, alternative, drawing, parse, render

EXAMPLES = sorted((Path(__file__).parents[4] / "fixtures" / "signs").glob("*.json"))


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_every_example_renders_draws_and_speaks(file):
    document = json.loads(file.read_text())
    spec, technique = parse(document["spec"]), document["technique"]
    shown = render(spec, technique)
    assert np.all(np.isfinite(shown.samples))
    assert drawing(spec, technique).startswith("<svg")
    assert len(alternative(spec, technique)) > 20


def test_there_are_examples_of_every_kind():
    kinds = {json.loads(file.read_text())["spec"]["kind"] for file in EXAMPLES}
    assert kinds == {
        "heart-sound",
        "breath-sound",
        "arterial-pulse",
        "venous-wave",
        "rhythm-strip",
        "picture",
    }


def test_a_wrong_field_is_named():
    with pytest.raises(SignError, match=r"lesions\.0\.grade"):
        parse({"kind": "heart-sound", "lesions": [{"type": "innocent", "grade": 7}]})


def test_an_unknown_field_is_refused():
    with pytest.raises(SignError, match="loudness"):
        parse({"kind": "heart-sound", "loudness": 3})


def test_a_kind_must_be_said():
    with pytest.raises(SignError, match="kind"):
        parse({"patient": {}})


def test_a_place_without_sound_is_refused_with_the_places_there_are():
    with pytest.raises(SignError, match=r"choose one of .*apex"):
        render(parse({"kind": "heart-sound"}), {"site": "umbilical-region"})


def test_a_picture_refuses_a_sign_of_another_part():
    picture = parse({"kind": "picture", "subject": "eye", "signs": ["clubbing"]})
    with pytest.raises(SignError, match="eye cannot show 'clubbing'"):
        render(picture, {})
