"""The places of the body drawing: which views there are and what can be pointed at in each.

Owns geometry and the words a place puts into the request line. Knows no catalogue; a test holds
every ``site`` against it. Right and left are the patient's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Shape = Literal["point", "area", "line"]
REGIONS = {
    "head": "face",
    "eyes": "eyes",
    "mouth": "mouth",
    "neck": "neck",
    "neck-back": "neck",
    "chest": "chest",
    "back-chest": "chest",
    "abdomen": "abdomen",
    "loins": "back",
    "sacrum": "back",
    "groin": "groin",
    "arm": "arms",
    "elbow": "arms",
    "hand": "hands",
    "leg": "legs",
    "calf": "legs",
    "foot": "feet",
    "heel": "feet",
}
"""The region of the catalogue in which a place without a site of its own lies; sides left out."""


@dataclass(frozen=True)
class Place:
    """A place to point at: a point of radius ``r``, or an area outlined by ``path``.

    ``words`` goes into the request line; ``site`` and ``side`` are technique values, where the
    catalogue has them. A flipped path is drawn at negative x. ``x``, ``y`` is the middle of a
    point, or of an area. ``to`` leads to a closer view instead.
    """

    slug: str
    name: str
    words: str
    x: float
    y: float
    path: str = ""
    is_flipped: bool = False
    r: float = 0.0
    label: str = ""
    label_x: float = 0.0
    label_y: float = 0.0
    anchor: str = "start"
    site: str = ""
    side: str = ""
    to: str = ""

    @property
    def whereabouts(self) -> str:
        """The site or region of the catalogue, with the side, as the query of a list of steps."""
        bare = self.slug.removeprefix("right-").removeprefix("left-")
        where = f"site={self.site}" if self.site else f"region={REGIONS[bare]}"
        return f"{where}&side={self.side}" if self.side else where

    @property
    def label_lines(self) -> tuple[tuple[float, str], ...]:
        """The label's lines with their heights; a bar in the label breaks it."""
        return tuple(
            (self.label_y + 14 * index, line) for index, line in enumerate(self.label.split("|"))
        )


@dataclass(frozen=True)
class View:
    """One drawing with its places; ``drawing`` names the template of its lines."""

    slug: str
    title: str
    drawing: str
    box: str
    right_x: float
    left_x: float
    side_y: float
    places: tuple[Place, ...]
    is_open: bool = False
