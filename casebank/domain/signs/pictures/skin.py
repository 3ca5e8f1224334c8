"""A hand's breadth of skin, with what has come up on it."""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.pictures.paint import (
    blob,
    ellipse,
    mixed,
    scattered,
    shape,
    skin_tone,
    stroke,
)
from casebank.domain.signs.signal import stream
from casebank.domain.signs.spec_pictures import Picture

WIDTH, HEIGHT = 560, 420
BOX = (50.0, 50.0, 510.0, 370.0)


def skin(picture: Picture) -> list[str]:
    """The shapes of the drawing, 560 by 420."""
    ground = shape("M0 0H560V420H0Z", skin_tone(picture.skin), "none", "sign__skin", 0)
    return [ground, *(part for sign in picture.signs for part in DRAW[sign](picture))]


def _tone(picture: Picture, colour: str, share: float) -> str:
    return mixed(skin_tone(picture.skin), colour, share)


def _spiders(picture: Picture) -> list[str]:
    """A red point with fine branches running out from it."""
    random = stream(picture.seed, "spiders")
    red, parts = _tone(picture, "#b0151f", 0.7), []
    for x, y in scattered(random, 3 + round(5 * picture.degree), BOX):
        for angle in np.linspace(0, 2 * np.pi, 8, endpoint=False):
            turn, reach = angle + random.uniform(-0.3, 0.3), random.uniform(12, 24)
            end_x, end_y = reach * np.cos(turn), reach * np.sin(turn)
            bend = f"q{end_x * 0.6 + 3:.1f} {end_y * 0.4:.1f} {end_x:.1f} {end_y:.1f}"
            parts.append(stroke(f"M{x:.1f} {y:.1f}{bend}", red, 1.3, "sign__mark"))
        parts.append(ellipse(x, y, 3.4, 3.4, red, "sign__mark"))
    return parts


def _purpura(picture: Picture) -> list[str]:
    random = stream(picture.seed, "purpura")
    dark = _tone(picture, "#4a1038", 0.75)
    places = scattered(random, 20 + round(60 * picture.degree), BOX)
    return [
        shape(blob(random, x, y, random.uniform(2.5, 8)), dark, "none", "sign__mark", 0)
        for x, y in places
    ]


def _targets(picture: Picture) -> list[str]:
    """Three rings: dark middle, pale ring, red edge."""
    random = stream(picture.seed, "targets")
    parts = []
    for x, y in scattered(random, 4 + round(5 * picture.degree), BOX):
        size = random.uniform(18, 30)
        rings = ((1.0, "#a8202c", 0.6), (0.68, "#f3d6c4", 0.6), (0.36, "#5c1230", 0.75))
        for share, colour, depth in rings:
            tone = _tone(picture, colour, depth)
            parts.append(ellipse(x, y, size * share, size * share, tone, "sign__mark"))
    return parts


def _vesicles(picture: Picture) -> list[str]:
    """Clustered clear blisters on a red ground, all to one side of the middle line."""
    random = stream(picture.seed, "vesicles")
    red, parts = _tone(picture, "#b8303a", 0.45), []
    for x, y in scattered(random, 4 + round(4 * picture.degree), (290, 130, 500, 290)):
        parts.append(shape(blob(random, x, y, 34), red, "none", "sign__mark", 0))
        for _ in range(5):
            dx, dy = random.uniform(-20, 20, 2)
            clear = _tone(picture, "#fff4dc", 0.7)
            parts.append(shape(blob(random, x + dx, y + dy, 6), clear, red, "sign__mark", 1))
    middle = stroke("M280 0V420", _tone(picture, "#000000", 0.3), 1, "sign__line")
    return [middle, *parts]


DRAW = {
    "spider-naevi": _spiders,
    "purpura": _purpura,
    "target-lesions": _targets,
    "vesicles": _vesicles,
}
