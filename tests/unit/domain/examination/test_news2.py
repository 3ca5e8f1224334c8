"""NEWS2 against the published chart: every boundary, worked examples, errors met elsewhere.

Table and triggers: Royal College of Physicians, National Early Warning Score (NEWS) 2, 2017.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.examination.news2 import COLUMNS, Observations, Response, response_to, score
from casebank.domain.examination.news2_chart import RESPONSES, chart_rows

WELL = {
    "respiration": 16,
    "saturation": 97,
    "on_oxygen": False,
    "systolic": 120,
    "pulse": 72,
    "consciousness": "A",
    "temperature": 36.8,
}
# Typed from the chart, apart from the code: name, then (lowest, highest, points) from low to high.
CHART = {
    "respiration": [(0, 8, 3), (9, 11, 1), (12, 20, 0), (21, 24, 2), (25, 60, 3)],
    "saturation": [(0, 91, 3), (92, 93, 2), (94, 95, 1), (96, 100, 0)],
    "systolic": [(0, 90, 3), (91, 100, 2), (101, 110, 1), (111, 219, 0), (220, 300, 3)],
    "pulse": [(0, 40, 3), (41, 50, 1), (51, 90, 0), (91, 110, 1), (111, 130, 2), (131, 250, 3)],
}
TEMPERATURE = [(200, 350, 3), (351, 360, 1), (361, 380, 0), (381, 390, 1), (391, 450, 2)]
SCALE_2_ON_AIR = [(0, 83, 3), (84, 85, 2), (86, 87, 1), (88, 92, 0), (93, 100, 0)]
SCALE_2_ON_OXYGEN = [
    (0, 83, 3), (84, 85, 2), (86, 87, 1), (88, 92, 0), (93, 94, 1), (95, 96, 2), (97, 100, 3),
]  # fmt: skip


def seen(**changes):
    return Observations(**{**WELL, **changes})


def whole(bands):
    """Every whole value of the bands with its points."""
    return [(value, points) for low, high, points in bands for value in range(low, high + 1)]


@pytest.mark.parametrize("name", CHART)
def test_every_value_of_the_chart_has_its_points(name):
    for value, points in whole(CHART[name]):
        assert score(seen(**{name: value})).points[name] == points, (name, value)


def test_every_tenth_of_a_degree_has_its_points():
    for tenths, points in whole(TEMPERATURE):
        assert score(seen(temperature=tenths / 10)).points["temperature"] == points, tenths


@pytest.mark.parametrize(
    ("on_oxygen", "bands"), [(False, SCALE_2_ON_AIR), (True, SCALE_2_ON_OXYGEN)]
)
def test_every_saturation_of_scale_2_has_its_points(on_oxygen, bands):
    for value, points in whole(bands):
        found = score(seen(saturation=value, on_oxygen=on_oxygen, scale=2))
        assert found.points["saturation"] == points, (value, on_oxygen)


def test_oxygen_is_two_points_and_any_change_of_consciousness_three():
    assert score(seen(on_oxygen=True)).points["oxygen"] == 2
    assert score(seen()).points["oxygen"] == 0
    points = {letter: score(seen(consciousness=letter)).total for letter in "ACVPU"}
    assert points == {"A": 0, "C": 3, "V": 3, "P": 3, "U": 3}


@pytest.mark.parametrize(
    ("row", "points", "total", "response"),
    [
        ((16, 97, False, 120, 72, "A", 36.8, 1), (0, 0, 0, 0, 0, 0, 0), 0, Response.ROUTINE),
        ((22, 94, False, 108, 112, "A", 38.4, 1), (2, 1, 0, 1, 2, 0, 1), 7, Response.HIGH),
        ((25, 97, False, 130, 80, "A", 37.0, 1), (3, 0, 0, 0, 0, 0, 0), 3, Response.SINGLE),
        ((11, 93, False, 219, 90, "A", 39.0, 1), (1, 2, 0, 0, 0, 0, 1), 4, Response.LOW),
        ((20, 90, True, 125, 88, "A", 37.2, 1), (0, 3, 2, 0, 0, 0, 0), 5, Response.MEDIUM),
        ((20, 90, True, 125, 88, "A", 37.2, 2), (0, 0, 2, 0, 0, 0, 0), 2, Response.LOW),
        ((20, 96, False, 125, 88, "A", 37.2, 2), (0, 0, 0, 0, 0, 0, 0), 0, Response.ROUTINE),
        ((8, 91, True, 90, 131, "U", 35.0, 1), (3, 3, 2, 3, 3, 3, 3), 20, Response.HIGH),
    ],
)
def test_the_worked_examples_come_out(row, points, total, response):
    found = score(Observations(*row))
    assert tuple(found.points.values()) == points
    assert (found.total, found.response) == (total, response)


def test_the_two_saturation_scales_are_not_swapped():
    """An error met in secondary pages: 89 % is three points on scale 1 and none on scale 2."""
    assert score(seen(saturation=89, scale=1)).points["saturation"] == 3
    assert score(seen(saturation=89, scale=2)).points["saturation"] == 0


def test_limits_belong_to_the_band_that_names_them():
    """Errors met in secondary pages take < for ≤ and > for ≥."""
    assert score(seen(respiration=25)).points["respiration"] == 3
    assert score(seen(systolic=90)).points["systolic"] == 3
    assert score(seen(systolic=220)).points["systolic"] == 3


@pytest.mark.parametrize(
    ("total", "has_single_3", "response"),
    [
        (0, False, Response.ROUTINE), (1, False, Response.LOW), (4, False, Response.LOW),
        (3, True, Response.SINGLE), (4, True, Response.SINGLE), (5, False, Response.MEDIUM),
        (5, True, Response.MEDIUM), (6, False, Response.MEDIUM), (7, False, Response.HIGH),
        (20, True, Response.HIGH),
    ],
)  # fmt: skip
def test_the_response_follows_total_and_single_threes(total, has_single_3, response):
    assert response_to(total, has_single_3=has_single_3) == response


@pytest.mark.parametrize(
    "wrong",
    [
        {"saturation": 101}, {"saturation": -1}, {"temperature": float("nan")},
        {"consciousness": "X"}, {"consciousness": ""}, {"scale": 3}, {"pulse": 401},
    ],
)  # fmt: skip
def test_what_nobody_can_have_is_refused(wrong):
    with pytest.raises(ValueError, match=r"Give|scale"):
        seen(**wrong)


def test_temperature_counts_as_it_is_charted_to_one_decimal():
    assert score(seen(temperature=38.04)).points["temperature"] == 0
    assert score(seen(temperature=38.05)).points["temperature"] == 1


def test_the_printed_chart_says_what_is_published():
    assert COLUMNS == (3, 2, 1, 0, 1, 2, 3)
    assert [row.cells for row in chart_rows()] == [
        ("≤8", "", "9–11", "12–20", "", "21–24", "≥25"),
        ("≤91", "92–93", "94–95", "≥96", "", "", ""),
        ("≤83", "84–85", "86–87", "88–92, or ≥93 on air", "93–94 on oxygen", "95–96 on oxygen",
         "≥97 on oxygen"),
        ("", "oxygen", "", "air", "", "", ""),
        ("≤90", "91–100", "101–110", "111–219", "", "", "≥220"),
        ("≤40", "", "41–50", "51–90", "91–110", "111–130", "≥131"),
        ("", "", "", "alert", "", "", "new confusion, voice, pain or unresponsive"),
        ("≤35.0", "", "35.1–36.0", "36.1–38.0", "38.1–39.0", "≥39.1", ""),
    ]  # fmt: skip


@given(
    respiration=st.integers(0, 80), saturation=st.integers(0, 100), on_oxygen=st.booleans(),
    systolic=st.integers(0, 300), pulse=st.integers(0, 300), consciousness=st.sampled_from("ACVPU"),
    temperature=st.floats(20, 45), scale=st.sampled_from((1, 2)),
)  # fmt: skip
def test_the_total_is_the_sum_and_lies_between_0_and_20(**values):
    found = score(Observations(**values))
    assert found.total == sum(found.points.values())
    assert 0 <= found.total <= 20
    assert all(0 <= points <= 3 for points in found.points.values())


def test_how_often_to_observe_again_is_what_the_published_chart_says():
    # Royal College of Physicians, NEWS2 (2017), chart 4: clinical response to the thresholds.
    assert [(one.total, one.monitoring) for one in RESPONSES] == [
        ("0", "at least every 12 hours"),
        ("1–4", "at least every 4 to 6 hours"),
        ("3 in any one observation", "at least every hour"),
        ("5–6", "at least every hour"),
        ("7 or more", "continuously"),
    ]
