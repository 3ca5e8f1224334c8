"""Nails: one finger from the side, four from above."""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.pictures.paint import (
    edge_tone,
    ellipse,
    inner_tone,
    mixed,
    shape,
    skin_tone,
    stroke,
)
from casebank.domain.signs.signal import stream
from casebank.domain.signs.spec_pictures import Picture

WIDTH, HEIGHT = 640, 360


def nails(picture: Picture) -> list[str]:
    """The shapes of the drawing, 640 by 360."""
    above = [part for index in range(4) for part in _above(picture, index)]
    return [*_side(picture), *above]


def _degree(picture: Picture, sign: str) -> float:
    return picture.degree if sign in picture.signs else 0.0


def _side(picture: Picture) -> list[str]:
    """The finger's end in profile: the angle at the nail's root, and the nail's curve."""
    club, spoon = _degree(picture, "clubbing"), _degree(picture, "spooning")
    swell = 26 * club
    root_y = 70 - swell * 0.9
    tip_y = root_y + 22 - 30 * club * 0.3 + 26 * club
    finger = (
        f"M20 62L150 {66 - swell * 0.3:.1f}Q185 {root_y:.1f} 215 {root_y:.1f}"
        f"Q300 {root_y - 2 + 18 * club:.1f} 306 {tip_y + 18:.1f}"
        f"Q310 {150 + swell:.1f} 215 {152 + swell:.1f}Q150 {150 + swell * 0.3:.1f} 20 150Z"
    )
    bend = 22 * spoon - 14 * club
    nail = (
        f"M205 {root_y + 1:.1f}Q255 {root_y - 6 + bend:.1f} 312 {tip_y + 4 - 18 * spoon:.1f}"
        f"L306 {tip_y + 12 - 14 * spoon:.1f}Q252 {root_y + 6 + bend:.1f} 205 {root_y + 8:.1f}Z"
    )
    skin, edge = skin_tone(picture.skin), edge_tone(picture.skin)
    return [
        shape(finger, skin, edge, "sign__skin"),
        shape(nail, inner_tone(picture.skin), edge, "sign__nail"),
    ]


def _above(picture: Picture, index: int) -> list[str]:
    x, club = 380 + (index % 2) * 130, _degree(picture, "clubbing")
    top = 30 + (index // 2) * 170
    wide = 38 + 12 * club
    skin, edge = skin_tone(picture.skin), edge_tone(picture.skin)
    finger = (
        f"M{x - 38} {top + 150}L{x - wide:.1f} {top + 60}Q{x - wide:.1f} {top} {x} {top}"
        f"Q{x + wide:.1f} {top} {x + wide:.1f} {top + 60}L{x + 38} {top + 150}Z"
    )
    ry = 36 - 4 * _degree(picture, "spooning")
    nail = ellipse(x, top + 48, 26 + 8 * club, ry, inner_tone(picture.skin), "sign__nail")
    return [shape(finger, skin, edge, "sign__skin"), nail, *_marks(picture, index, x, top)]


def _marks(picture: Picture, index: int, x: float, top: float) -> list[str]:
    random = stream(picture.seed, f"nail:{index}")
    marks = []
    if "splinters" in picture.signs:
        marks += _splinters(random, picture.degree, x, top)
    if "pitting" in picture.signs:
        dark = mixed(inner_tone(picture.skin), "#402018", 0.5)
        for _ in range(round(4 + 14 * picture.degree)):
            dx, dy = random.uniform(-17, 17), random.uniform(-24, 24)
            marks.append(ellipse(x + dx, top + 48 + dy, 1.7, 1.7, dark, "sign__mark"))
    if "spooning" in picture.signs:
        hollow = mixed(inner_tone(picture.skin), "#402018", 0.3 * picture.degree)
        marks.append(ellipse(x, top + 46, 15, 20, hollow, "sign__mark"))
    return marks


def _splinters(random: np.random.RandomState, degree: float, x: float, top: float) -> list[str]:
    lines = []
    for _ in range(random.randint(0, 2) + round(2 * degree)):
        dx, start = random.uniform(-16, 16), top + random.uniform(24, 50)
        path = f"M{x + dx:.1f} {start:.1f}l{random.uniform(-1, 1):.1f} {random.uniform(9, 16):.1f}"
        lines.append(stroke(path, "#5a1414", 2.2, "sign__mark"))
    return lines
