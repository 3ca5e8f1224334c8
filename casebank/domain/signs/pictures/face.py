"""A face, and one eye near to, with the lower lid drawn down."""

from __future__ import annotations

from casebank.domain.signs.pictures.paint import (
    blob,
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

WIDTH, HEIGHT = 480, 560
EYE_WIDTH, EYE_HEIGHT = 640, 420


def face(picture: Picture) -> list[str]:
    """The shapes of the drawing, 480 by 560."""
    skin, edge = skin_tone(picture.skin), edge_tone(picture.skin)
    head = (
        "M240 40C120 40 92 150 98 270C102 400 170 520 240 520"
        "C310 520 378 400 382 270C388 150 360 40 240 40Z"
    )
    return [
        shape(head, skin, edge, "sign__skin"),
        *(part for sign in picture.signs for part in FACE[sign](picture)),
        *_features(picture),
    ]


def _features(picture: Picture) -> list[str]:
    edge, lip = edge_tone(picture.skin), mixed(inner_tone(picture.skin), "#b0444a", 0.35)
    parts = [stroke("M240 230L226 320Q240 332 256 320", edge, 3, "sign__line")]
    for x in (178, 302):
        almond = f"M{x - 38} 236Q{x} 208 {x + 38} 236Q{x} 256 {x - 38} 236Z"
        parts.append(shape(almond, "#fbf8f4", edge, "sign__eye"))
        parts.append(ellipse(x, 233, 14, 14, "#4a3020", "sign__eye"))
        parts.append(stroke(f"M{x - 42} 196Q{x} 176 {x + 42} 196", edge, 7, "sign__line"))
    mouth = "M196 404Q240 384 284 404Q240 436 196 404Z"
    return [*parts, shape(mouth, lip, edge, "sign__lip")]


def _malar(picture: Picture) -> list[str]:
    """Dusky red over both cheeks; on dark skin a deeper, duller tone."""
    flush = mixed(skin_tone(picture.skin), "#8e2347", 0.25 + 0.4 * picture.degree)
    rings = ((44, 34, "0.5"), (32, 24, "0.7"))
    return [
        ellipse(x, 318, rx, ry, flush, "sign__mark", fill_opacity=clear)
        for x in (158, 322)
        for rx, ry, clear in rings
    ]


def _xanthelasma(picture: Picture) -> list[str]:
    """Flat yellow patches on the inner lids."""
    random = stream(picture.seed, "lids")
    yellow = mixed(skin_tone(picture.skin), "#f2cf4a", 0.75)
    size = 6 + 8 * picture.degree
    places = ((212, 214), (268, 214), (214, 256))[: 2 + round(picture.degree)]
    edge = mixed(yellow, "#7a5a10", 0.35)
    return [shape(blob(random, x, y, size), yellow, edge, "sign__mark", 1) for x, y in places]


FACE = {"malar-flush": _malar, "xanthelasma": _xanthelasma}


def eye(picture: Picture) -> list[str]:
    """The shapes of the drawing, 640 by 420."""
    skin, edge = skin_tone(picture.skin), edge_tone(picture.skin)
    around = "M0 0H640V420H0Z"
    opening = "M70 200Q320 20 570 200Q320 330 70 200Z"
    lid = "M96 214Q320 352 544 214Q500 330 320 344Q140 330 96 214Z"
    return [
        shape(around, skin, "none", "sign__skin", 0),
        shape(lid, _lid_lining(picture), edge, "sign__lid"),
        shape(opening, _white(picture), edge, "sign__eye"),
        *_iris(picture),
        stroke("M70 200Q320 20 570 200", edge, 6, "sign__line"),
        stroke("M90 120Q320 -30 560 120", edge, 3, "sign__line"),
    ]


def _lid_lining(picture: Picture) -> str:
    pale = picture.degree if "pallor" in picture.signs else 0.0
    return mixed("#cf5a56", "#f5e3da", 0.95 * pale)


def _white(picture: Picture) -> str:
    yellow = picture.degree if "icterus" in picture.signs else 0.0
    return mixed("#fbf9f5", "#f0d24a", 0.85 * yellow)


def _iris(picture: Picture) -> list[str]:
    parts = [ellipse(320, 186, 72, 72, "#5a3a22", "sign__eye")]
    if "arcus" in picture.signs:
        width = 6 + 10 * picture.degree
        ring = "M320 121A65 65 0 1 1 319.9 121"
        pale = mixed("#5a3a22", "#e6e4dc", 0.5 + 0.45 * picture.degree)
        parts.append(stroke(ring, pale, width, "sign__mark"))
    return [*parts, ellipse(320, 186, 30, 30, "#140c08", "sign__eye"),
            ellipse(334, 172, 8, 8, "#ffffff", "sign__eye")]  # fmt: skip
