"""A small SVG writer: elements, escaped text, paths from arrays.

Owns the text of a drawing. Every element carries a class for theming and plain presentation
attributes as its look without a style sheet; there is never a style attribute.
"""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

import numpy as np

from casebank.domain.signs.signal import Signal

# Look without a style sheet: attributes by class.
LOOKS: dict[str, dict[str, str]] = {
    "sign__trace": {"fill": "none", "stroke": "currentColor", "stroke-width": "1.6"},
    "sign__sound": {"fill": "none", "stroke": "currentColor", "stroke-width": "1"},
    "sign__grid": {"fill": "none", "stroke": "#c9b9b4", "stroke-width": "0.5"},
    "sign__grid-strong": {"fill": "none", "stroke": "#b08f88", "stroke-width": "1"},
    "sign__axis": {"fill": "none", "stroke": "currentColor", "stroke-width": "1"},
    "sign__label": {"fill": "currentColor", "font-size": "15", "font-family": "sans-serif"},
    "sign__ruler": {"fill": "none", "stroke": "currentColor", "stroke-width": "1.2"},
    "sign__unseen": {"fill": "#8884", "stroke": "none"},
    "sign__line": {"fill": "none", "stroke": "#3a2a26", "stroke-width": "2"},
}


def number(value: float) -> str:
    """A coordinate with one decimal at most."""
    text = f"{value:.1f}"
    return text.removesuffix(".0") if text != "-0.0" else "0"


def element(tag: str, *children: str, css: str = "", **attributes: str | float) -> str:
    """One element; underscores in attribute names become hyphens."""
    look = dict(LOOKS.get(css, {}))
    said = {name.replace("_", "-"): _written(value) for name, value in attributes.items()}
    every = ({"class": css} if css else {}) | look | said
    opened = tag + "".join(f" {name}={quoteattr(value)}" for name, value in every.items())
    return f"<{opened}>{''.join(children)}</{tag}>" if children else f"<{opened}/>"


def _written(value: str | float) -> str:
    return value if isinstance(value, str) else number(value)


def text(words: str, x: float, y: float, css: str = "sign__label", **attributes: str) -> str:
    """A label."""
    return element("text", escape(words), css=css, x=x, y=y, **attributes)


def document(
    width: float, height: float, title: str, describes: str, *children: str, pixels: float = 0
) -> str:
    """A whole drawing with its title and description, which screen readers say.

    ``pixels`` of a unit give it a size of its own; without, it fits where it is put.
    """
    head = element("title", escape(title)) + element("desc", escape(describes))
    size = {"width": width * pixels, "height": height * pixels} if pixels else {}
    return element(
        "svg", head, *children, css="sign", xmlns="http://www.w3.org/2000/svg", role="img",
        viewBox=f"0 0 {number(width)} {number(height)}", **size,
    )  # fmt: skip


def line_path(x: Signal, y: Signal) -> str:
    """Path data through the points."""
    points = [f"{number(a)} {number(b)}" for a, b in zip(x, y, strict=True)]
    return "M" + "L".join(points)


def envelope_path(samples: Signal, left: float, width: int, middle: float, half: float) -> str:
    """Path data of a sound: its lowest and highest sample in every pixel column."""
    edges = np.linspace(0, len(samples), width + 1).astype(int)[:-1]
    low, high = np.minimum.reduceat(samples, edges), np.maximum.reduceat(samples, edges)
    steps = [
        f"M{number(left + column)} {number(middle - half * top)}V{number(middle - half * bottom)}"
        for column, (bottom, top) in enumerate(zip(low, high, strict=True))
        if top - bottom > 0.2 / half
    ]
    baseline = f"M{number(left)} {number(middle)}H{number(left + width)}"
    return baseline + "".join(steps)


def grid_path(left: float, top: float, right: float, bottom: float, step: float) -> str:
    """Path data of square paper."""
    columns = np.arange(left, right + 0.01, step)
    rows = np.arange(top, bottom + 0.01, step)
    upright = "".join(f"M{number(x)} {number(top)}V{number(bottom)}" for x in columns)
    return upright + "".join(f"M{number(left)} {number(y)}H{number(right)}" for y in rows)
