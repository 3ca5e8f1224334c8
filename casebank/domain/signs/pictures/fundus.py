"""The back of the eye through the ophthalmoscope."""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.pictures.paint import blob, ellipse, mixed, scattered, shape, stroke
from casebank.domain.signs.signal import stream
from casebank.domain.signs.spec_pictures import Picture

WIDTH, HEIGHT = 560, 560
DISC = (190.0, 280.0)
GROUND = ("#d9663c", "#d05f38", "#bf5430", "#a54627", "#863a20", "#6b2f1c")
ARCADES = (
    "M190 270Q230 150 380 120Q440 108 500 150", "M190 290Q230 410 380 440Q440 452 500 410",
    "M190 272Q150 180 80 130", "M190 288Q150 380 80 430",
)  # fmt: skip


def fundus(picture: Picture) -> list[str]:
    """The shapes of the drawing, 560 by 560."""
    ground = GROUND[picture.skin - 1]
    return [
        ellipse(280, 280, 270, 270, ground, "sign__ground"),
        ellipse(380, 285, 34, 30, mixed(ground, "#5a1c10", 0.45), "sign__ground"),
        *_disc(picture, ground),
        *_vessels(picture),
        *(part for sign in picture.signs if sign in MARKS for part in MARKS[sign](picture)),
    ]


def _disc(picture: Picture, ground: str) -> list[str]:
    """The optic disc; swollen, its edge is lost and its cup filled."""
    swollen = picture.degree if "disc-swelling" in picture.signs else 0.0
    x, y = DISC
    pale = mixed("#f4d9a0", "#e58a68", swollen * 0.6)
    parts = [
        ellipse(x, y, 36 + step, 42 + step, mixed(pale, ground, 0.3), "sign__disc",
                fill_opacity=f"{0.35 * swollen:.2f}")
        for step in (26, 18, 10)
        if swollen
    ]  # fmt: skip
    parts.append(ellipse(x, y, 36 + 6 * swollen, 42 + 6 * swollen, pale, "sign__disc"))
    if swollen < 0.4:
        parts.append(ellipse(x + 2, y, 14, 16, "#fbeecb", "sign__disc"))
    return parts


def _vessels(picture: Picture) -> list[str]:
    copper = picture.degree if "copper-wiring" in picture.signs else 0.0
    parts = []
    for index, path in enumerate(ARCADES):
        parts.append(stroke(path, "#7c1a1c", 7 if index < 2 else 5, "sign__vein"))
    for path in ARCADES:
        parts.append(element_shifted(path, mixed("#b8302a", "#e6a060", copper), 4 - 1.6 * copper))
        if copper:
            parts.append(element_shifted(path, mixed("#d07050", "#ffe0b0", copper), 1.2))
    return parts


def element_shifted(path: str, colour: str, width: float) -> str:
    """An artery beside its vein."""
    x, y, rest = path[1:].replace("Q", " Q").split(" ", 2)
    return stroke(f"M{float(x) + 8:.0f} {float(y):.0f}{rest}", colour, width, "sign__artery")


def _around(picture: Picture, name: str, count: int) -> list[tuple[float, float]]:
    places = scattered(stream(picture.seed, name), count, (230, 120, 480, 440))
    return [(x, y) for x, y in places if np.hypot(x - 380, y - 285) > 45]


def _count(picture: Picture, most: int) -> int:
    return 2 + round(most * picture.degree)


def _cotton(picture: Picture) -> list[str]:
    random = stream(picture.seed, "cotton-size")
    return [
        shape(blob(random, x, y, 13), "#f6efdc", "none", "sign__mark", 0)
        for x, y in _around(picture, "cotton", _count(picture, 6))
    ]


def _flames(picture: Picture) -> list[str]:
    """Streaks along the nerve fibres, from the disc outwards."""
    parts = []
    for x, y in _around(picture, "flames", _count(picture, 9)):
        away = np.arctan2(y - DISC[1], x - DISC[0])
        dx, dy = 13 * np.cos(away), 13 * np.sin(away)
        path = f"M{x - dx:.1f} {y - dy:.1f}L{x + dx:.1f} {y + dy:.1f}"
        parts.append(stroke(path, "#6e0f12", 6, "sign__mark"))
    return parts


def _exudates(picture: Picture) -> list[str]:
    """Small bright specks with sharp edges, in a ring about the macula."""
    random = stream(picture.seed, "exudates")
    parts = []
    for angle in np.linspace(0, 2 * np.pi, 8 + round(14 * picture.degree), endpoint=False):
        reach = random.uniform(46, 70)
        x, y = 380 + reach * np.cos(angle), 285 + reach * np.sin(angle)
        parts.append(ellipse(float(x), float(y), 3.2, 2.6, "#fff2b0", "sign__mark"))
    return parts


MARKS = {"cotton-wool": _cotton, "flame-haemorrhages": _flames, "hard-exudates": _exudates}
