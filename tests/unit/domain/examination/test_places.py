"""A side or site told of one of several requests holds for those beside it, and for no others."""

from __future__ import annotations

import pytest

from casebank.core.fixtures import load_resolver


def read(text):
    return {one.step: dict(one.technique) for one in load_resolver().resolve(text).requests}


@pytest.mark.parametrize(
    ("text", "steps", "told"),
    [
        ("right knee patellar tap + sweep test", ("knee-effusion-tap", "knee-bulge-sign"),
         {"side": "right"}),
        ("hoffman's and plantars both sides", ("finger-jerk", "plantar-response"),
         {"side": "both"}),
        ("light touch then pinprick in both feet", ("light-touch-limbs", "pinprick-limbs"),
         {"side": "both", "site": "feet-skin"}),
        ("femoral, popliteal and posterior tibial pulses on the left",
         ("femoral-pulse", "popliteal-pulse", "posterior-tibial-pulse"), {"side": "left"}),
        ("pleural rub in the left axilla and tender ribs there",
         ("pleural-rub", "chest-wall-tenderness"), {"side": "left", "site": "chest-side"}),
        ("percuss and then auscultate the left upper zone at the front",
         ("chest-percussion", "breath-sounds"), {"side": "left", "site": "front-upper-zone"}),
    ],
)  # fmt: skip
def test_a_place_holds_for_the_neighbours_it_is_told_of(text, steps, told):
    found = read(text)
    assert tuple(found) == steps
    assert all(told.items() <= technique.items() for technique in found.values())


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("lower limb tone and then look for clonus at the left ankle", "tone-legs"),
        ("JVP then carotid pulse on the right", "jvp-height"),
    ],
)
def test_a_side_told_of_a_later_request_is_not_that_of_another(text, step):
    assert "side" not in read(text)[step]
