"""The palm of a hand with its fingers."""

from __future__ import annotations

from casebank.domain.signs.pictures.paint import (
    blob,
    edge_tone,
    ellipse,
    inner_tone,
    mixed,
    shape,
    stroke,
)
from casebank.domain.signs.signal import stream
from casebank.domain.signs.spec_pictures import Picture

WIDTH, HEIGHT = 480, 560

OUTLINE = (
    "M150 540L150 430Q110 400 96 340L60 250Q50 222 72 216Q92 212 104 238L140 300L128 110"
    "Q128 84 150 84Q170 84 173 110L186 250L196 72Q198 46 218 46Q240 46 241 72L242 248L262 84"
    "Q266 60 286 62Q306 66 304 92L292 262L326 142Q334 120 352 126Q370 132 366 156L336 300"
    "Q342 380 320 440L322 540Z"
)
PULPS = ((150, 112), (218, 76), (284, 92), (349, 152))


def hands(picture: Picture) -> list[str]:
    """The shapes of the drawing, 480 by 560."""
    palm, edge = inner_tone(picture.skin), edge_tone(picture.skin)
    creases = "M140 330Q220 300 330 330M132 352Q200 360 250 440M160 300Q170 400 180 440"
    return [
        shape(OUTLINE, palm, edge, "sign__skin"),
        stroke(creases, mixed(palm, edge, 0.5), 2, "sign__line"),
        *(part for sign in picture.signs for part in DRAW[sign](picture)),
    ]


def _red(picture: Picture, share: float) -> str:
    return mixed(inner_tone(picture.skin), "#b3202a", share)


def _erythema(picture: Picture) -> list[str]:
    red = _red(picture, 0.25 + 0.5 * picture.degree)
    return [
        ellipse(172, 400, 34, 62, red, "sign__mark", fill_opacity="0.75"),
        ellipse(306, 392, 24, 74, red, "sign__mark", fill_opacity="0.75"),
        *(ellipse(x, y, 15, 18, red, "sign__mark", fill_opacity="0.6") for x, y in PULPS),
    ]


def _tar(picture: Picture) -> list[str]:
    brown = mixed(inner_tone(picture.skin), "#7a4a10", 0.35 + 0.5 * picture.degree)
    return [
        ellipse(154, 122, 17, 34, brown, "sign__mark", fill_opacity="0.85"),
        ellipse(216, 86, 17, 34, brown, "sign__mark", fill_opacity="0.85"),
    ]


def _nodes(picture: Picture) -> list[str]:
    """Small raised lumps on the pulps, with a light edge."""
    parts = []
    for x, y in PULPS[: 1 + round(3 * picture.degree)]:
        parts.append(ellipse(x + 4, y + 6, 8, 8, _red(picture, 0.7), "sign__mark"))
        parts.append(ellipse(x + 2, y + 3, 3, 3, _red(picture, 0.2), "sign__mark"))
    return parts


def _spots(picture: Picture) -> list[str]:
    """Flat red patches on the ball of the thumb and of the little finger."""
    random = stream(picture.seed, "palm")
    places = ((168, 392), (184, 432), (160, 420), (300, 380), (308, 420), (292, 350))
    red = _red(picture, 0.6)
    return [
        shape(blob(random, x, y, 8), red, "none", "sign__mark", 0)
        for x, y in places[: 2 + round(4 * picture.degree)]
    ]


DRAW = {
    "palmar-erythema": _erythema,
    "tar-staining": _tar,
    "tender-nodes": _nodes,
    "flat-palm-spots": _spots,
}
