"""The whole body, front and back: regions to name, and doors to the closer views.

Paths of one side are drawn at positive x; ``_both`` flips them. Units of the view box.
"""

from __future__ import annotations

from casebank.core.charts.body import Place, View

BOX = "-150 0 300 692"
HEAD = "M-30 40C-29 20-16 11 0 11S29 20 30 40Z"
EYES = "M-31 40H31C32 50 30 58 28 65H-28C-30 58-32 50-31 40Z"
MOUTH = "M-28 65H28C25 82 15 97 0 99S-25 82-28 65Z"
NECK = "M-17 97Q0 104 17 97V106C18 115 30 121 46 125L20 133H-20L-46 125C-30 121-18 115-17 106Z"
CHEST = (
    "M-20 134H20L58 130C62 150 63 170 64 190C63 210 61 226 58 240H-58"
    "C-61 226-63 210-64 190C-63 170-62 150-58 130Z"
)
ABDOMEN = (
    "M-58 242H58C54 262 52 280 53 292C55 310 60 328 64 346H-64C-60 328-55 310-53 292"
    "C-52 280-54 262-58 242Z"
)
ARM = (
    "M60 130C76 132 85 146 87 165C88 192 91 216 96 240C104 264 112 302 117 342L104 347"
    "C98 320 87 290 81 263C76 240 70 216 65 191C64 170 63 150 60 130Z"
)
HAND = (
    "M104 349 117 344C126 354 140 366 142 384L131 386C132 404 130 420 126 434H113"
    "C108 404 103 376 104 349Z"
)
LEG = (
    "M66 350C71 388 66 434 58 480L54 508C55 540 58 570 42 638H25C18 600 15 568 20 535V505"
    "C20 478 12 428 6 386Z"
)
FOOT = "M25 640H42C46 656 62 664 61 674C58 684 28 684 23 678C21 664 26 654 25 640Z"
LOIN = "M-58 242H58C54 262 52 280 54 302H-54C-52 280-54 262-58 242Z"
SACRUM = "M-30 304H30C26 330 14 348 0 352C-14 348-26 330-30 304Z"


def _middle(slug: str, name: str, path: str, at: tuple[float, float]) -> Place:
    return Place(slug, name, name, *at, path=path)


def _door(slug: str, name: str, path: str, at: tuple[float, float], to: str) -> Place:
    """A place that leads to a closer view and says so on the drawing."""
    x, y = at
    return Place(
        slug, name, name, x, y, path=path, label=name, label_x=x, label_y=y, anchor="middle", to=to
    )


def _both(slug: str, name: str, path: str, at: tuple[float, float], right: int) -> list[Place]:
    """The place on both sides; ``right`` is the sign of x where the patient's right is drawn."""
    x, y = at
    return [
        Place(
            f"{side}-{slug}",
            f"{side} {name}",
            f"{side} {name}",
            sign * x,
            y,
            path=path,
            is_flipped=sign < 0,
            side=side,
        )
        for side, sign in (("right", right), ("left", -right))
    ]


FRONT = View(
    slug="front",
    title="Front",
    drawing="front",
    box=BOX,
    right_x=-112,
    left_x=112,
    side_y=28,
    is_open=True,
    places=(
        _middle("head", "head", HEAD, (0, 28)),
        _middle("eyes", "eyes", EYES, (0, 52)),
        _middle("mouth", "mouth", MOUTH, (0, 80)),
        _middle("neck", "neck", NECK, (0, 120)),
        _door("chest", "chest", CHEST, (0, 190), "heart"),
        _door("abdomen", "abdomen", ABDOMEN, (0, 326), "abdomen"),
        *_both("groin", "groin", "M2 348H64C46 362 24 374 5 384H2Z", (34, 358), -1),
        *_both("arm", "arm", ARM, (86, 220), -1),
        *_both("hand", "hand", HAND, (120, 388), -1),
        *_both("leg", "leg", LEG, (38, 470), -1),
        *_both("foot", "foot", FOOT, (40, 668), -1),
    ),
)

BACK = View(
    slug="back",
    title="Back",
    drawing="back",
    box=BOX,
    right_x=112,
    left_x=-112,
    side_y=28,
    places=(
        _middle("neck-back", "back of the neck", NECK, (0, 116)),
        _door("back-chest", "back of the chest", CHEST, (0, 228), "lungs-back"),
        _middle("loins", "loins", LOIN, (0, 272)),
        _middle("sacrum", "sacrum", SACRUM, (0, 328)),
        *_both("elbow", "elbow", "M72 214 92 210 104 262 84 276Z", (88, 242), 1),
        *_both(
            "calf", "calf", "M20 512H54C57 540 57 575 42 638H25C18 600 15 568 20 535Z", (38, 568), 1
        ),
        *_both("heel", "heel", FOOT, (36, 668), 1),
    ),
)
