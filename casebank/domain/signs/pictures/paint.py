"""Colours and simple shapes that pictures share.

Owns skin tones and blending. Every shape carries a class and plain attributes.
"""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.drawing.svg import element, number

SKIN = ("#f6dcc9", "#eac4a3", "#d6a47c", "#b57f56", "#87573a", "#533527")
"""From lightest to darkest: six steps."""

Colour = tuple[int, int, int]


def _rgb(colour: str) -> Colour:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def mixed(one: str, other: str, share: float) -> str:
    """``share`` of the other colour laid over the one."""
    pairs = zip(_rgb(one), _rgb(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def skin_tone(skin: int) -> str:
    """The skin's colour, 1 to 6."""
    return SKIN[skin - 1]


def inner_tone(skin: int) -> str:
    """Palm, nail bed and lip: pinker, and lighter than dark skin."""
    return mixed(mixed(skin_tone(skin), "#f0c0b0", 0.25 + 0.07 * skin), "#e58f86", 0.22)


def edge_tone(skin: int) -> str:
    """Outlines that show on this skin."""
    return mixed(skin_tone(skin), "#20100c", 0.55)


def ellipse(x: float, y: float, rx: float, ry: float, fill: str, css: str, **more: str) -> str:
    """A filled ellipse."""
    return element("ellipse", css=css, cx=x, cy=y, rx=rx, ry=ry, fill=fill, **more)


def shape(path: str, fill: str, edge: str, css: str, width: float = 2.0) -> str:
    """A filled shape with an outline."""
    return element("path", css=css, d=path, fill=fill, stroke=edge, stroke_width=width)


def stroke(path: str, colour: str, width: float, css: str) -> str:
    """A line."""
    return element(
        "path", css=css, d=path, fill="none", stroke=colour, stroke_width=width,
        stroke_linecap="round",
    )  # fmt: skip


def blob(random: np.random.RandomState, x: float, y: float, radius: float) -> str:
    """Path of an uneven round patch."""
    angles = np.linspace(0, 2 * np.pi, 9)[:-1]
    reach = radius * random.uniform(0.75, 1.2, 8)
    px, py = x + reach * np.cos(angles), y + reach * np.sin(angles)
    middle_x, middle_y = (px + np.roll(px, -1)) / 2, (py + np.roll(py, -1)) / 2
    path = f"M{number(middle_x[-1])} {number(middle_y[-1])}"
    for i in range(8):
        path += f"Q{number(px[i])} {number(py[i])} {number(middle_x[i])} {number(middle_y[i])}"
    return path + "Z"


def scattered(
    random: np.random.RandomState, count: int, box: tuple[float, float, float, float]
) -> list[tuple[float, float]]:
    """Places within a box (left, top, right, bottom), spread on a jittered grid."""
    left, top, right, bottom = box
    columns = max(1, round(np.sqrt(count * (right - left) / max(bottom - top, 1))))
    rows = -(-count // columns)
    cells = random.permutation(columns * rows)[:count]
    found = []
    for cell in cells:
        x = left + (cell % columns + random.uniform(0.2, 0.8)) * (right - left) / columns
        y = top + (cell // columns + random.uniform(0.2, 0.8)) * (bottom - top) / rows
        found.append((float(x), float(y)))
    return found
