"""The closer views: the heart and the lungs on the chest, and the nine regions of the abdomen.

Surface landmarks follow the usual surface anatomy: the second space at the sternal angle, the apex
in the fifth left space at the mid-clavicular line (common practice, no source).
"""

from __future__ import annotations

from casebank.core.charts.body import Place, View

CHEST_BOX = "-160 -34 320 344"
ZONES = {
    "upper": "M20 70C50 56 84 60 108 72L114 128C84 118 50 120 20 124Z",
    "mid": "M20 127C50 123 84 121 114 131L117 190C84 178 50 180 20 184Z",
    "lower": "M20 187C50 183 84 181 117 193L114 258C88 244 52 214 20 208Z",
}
ZONE_NAMES = {"upper": "upper", "mid": "middle", "lower": "lower"}
ZONE_TEXT = {"upper": (66, 98), "mid": (62, 152), "lower": (84, 216)}
BACK_ZONES = {
    "upper": "M10 66C44 58 84 62 108 74L113 124H10Z",
    "mid": "M10 127H113L115 186H10Z",
    "lower": "M10 189H115L112 256C80 262 44 262 10 256Z",
}
BACK_TEXT = {"upper": (60, 100), "mid": (62, 160), "lower": (60, 228)}


def _point(
    site: str, name: str, words: str, at: tuple[float, float], label: str, **more: str
) -> Place:
    """A point with its short label beside it: outwards, or as ``anchor`` says."""
    x, y = at
    anchor = more.get("anchor", "end" if x < 0 else "start")
    shift = {"end": -15.0, "start": 15.0, "middle": 0.0}[anchor]
    return Place(
        slug=more.get("slug", site),
        name=name,
        words=words,
        x=x,
        y=y,
        r=13,
        label=label,
        label_x=x + shift,
        label_y=y + (24 if anchor == "middle" else 5),
        anchor=anchor,
        site=site,
        side=more.get("side", ""),
    )


def _zones(face: str, paths: dict[str, str], text: dict[str, tuple[int, int]]) -> list[Place]:
    """The three zones of both sides; at the front the patient's right has negative x."""
    right = -1 if face == "front" else 1
    direction = "anterior" if face == "front" else "posterior"
    return [
        Place(
            slug=f"{face}-{zone}-{side}",
            name=f"{side} {ZONE_NAMES[zone]} zone at the {face}",
            words=f"{side} {direction} {zone} zone",
            x=sign * text[zone][0],
            y=text[zone][1],
            path=path,
            is_flipped=sign < 0,
            label=ZONE_NAMES[zone],
            label_x=sign * text[zone][0],
            label_y=text[zone][1] + 5,
            anchor="middle",
            site=f"{face}-{zone}-zone",
            side=side,
        )
        for zone, path in paths.items()
        for side, sign in (("right", right), ("left", -right))
    ]


def _pair(
    site: str,
    name: str,
    words: str,
    at: tuple[float, float],
    label: str,
    label_at: tuple[float, float],
) -> list[Place]:
    """A point on both sides of the front; the label of the left one starts at ``label_at``."""
    x, y = at
    is_inwards = label_at[0] < x
    return [
        Place(
            slug=f"{site}-{side}",
            name=f"{side} {name}",
            words=f"{side} {words}",
            x=sign * x,
            y=y,
            r=13,
            label=label,
            label_x=sign * label_at[0],
            label_y=label_at[1],
            anchor="end" if (sign > 0) == is_inwards else "start",
            site=site,
            side=side,
        )
        for side, sign in (("right", -1), ("left", 1))
    ]


def _region(
    slug: str, path: str, at: tuple[float, float], label: str, *, flip: bool = False
) -> Place:
    """A region of the abdomen; its name is the catalogue's slug in words."""
    words = slug.replace("-", " ")
    x, y = at
    return Place(
        slug,
        words,
        words,
        x,
        y,
        path=path,
        is_flipped=flip,
        label=label,
        label_x=x,
        label_y=y + 5,
        anchor="middle",
        site=slug,
    )


HEART = View(
    slug="heart",
    title="Chest: the heart",
    drawing="chest",
    box=CHEST_BOX,
    right_x=-118,
    left_x=118,
    side_y=-14,
    places=(
        _point("aortic-area", "aortic area", "at the aortic area", (-30, 104), "aortic"),
        _point("pulmonary-area", "pulmonary area", "at the pulmonary area", (30, 104), "pulmonary"),
        _point(
            "left-sternal-edge",
            "left sternal edge",
            "at the left sternal edge",
            (28, 138),
            "sternal edge",
        ),
        _point("tricuspid-area", "tricuspid area", "at the tricuspid area", (28, 170), "tricuspid"),
        _point("apex", "apex", "at the apex", (68, 200), "apex"),
        _point("axilla", "left axilla", "in the left axilla", (128, 178), "axilla", anchor="end"),
        *_pair("carotid", "carotid artery", "carotid artery", (25, 22), "carotid", (46, 12)),
        _point(
            "right-clavicle",
            "right clavicle",
            "over the right clavicle",
            (-72, 58),
            "clavicle",
            anchor="middle",
        ),
        _point(
            "subxiphoid",
            "below the xiphisternum",
            "below the xiphisternum",
            (0, 246),
            "subxiphoid",
            anchor="middle",
        ),
    ),
)

LUNGS_FRONT = View(
    slug="lungs-front",
    title="Chest: the lungs, front",
    drawing="chest",
    box=CHEST_BOX,
    right_x=-118,
    left_x=118,
    side_y=-14,
    places=(
        *_zones("front", ZONES, ZONE_TEXT),
        *_pair("lung-apex", "lung apex", "lung apex", (48, 42), "lung apex", (66, 24)),
        *_pair("clavicle", "clavicle", "on the clavicle itself", (90, 57), "clavicle", (104, 42)),
        *_pair(
            "chest-side", "side of the chest", "side of the chest", (130, 160), "side", (116, 165)
        ),
    ),
)

LUNGS_BACK = View(
    slug="lungs-back",
    title="Chest: the lungs, back",
    drawing="chest_back",
    box=CHEST_BOX,
    right_x=118,
    left_x=-118,
    side_y=-14,
    places=(
        *_zones("back", BACK_ZONES, BACK_TEXT),
        _point(
            "between-scapulae", "between the scapulae", "between the shoulder blades", (0, 140), ""
        ),
    ),
)

HYPOCHONDRIUM = "M43 38C66 58 88 73 105 80C102 96 101 106 101 118H43Z"
EPIGASTRIUM = "M-43 38C-28 24-10 0 0-6C10 0 28 24 43 38V118H-43Z"
LUMBAR = "M43 118H101C98 146 99 176 105 206H43Z"
ILIAC = "M43 206H105C109 218 112 232 114 246C96 262 72 279 43 297Z"
SUPRAPUBIC = "M-43 206H43V297C35 302 28 307 18 312Q0 318-18 312C-28 307-35 302-43 297Z"

ABDOMEN = View(
    slug="abdomen",
    title="Abdomen",
    drawing="abdomen",
    box="-160 -24 320 350",
    right_x=-134,
    left_x=134,
    side_y=160,
    places=(
        _region("right-hypochondrium", HYPOCHONDRIUM, (-74, 92), "hypo-|chondrium", flip=True),
        _region("epigastrium", EPIGASTRIUM, (0, 84), "epigastrium"),
        _region("left-hypochondrium", HYPOCHONDRIUM, (74, 92), "hypo-|chondrium"),
        _region("right-lumbar", LUMBAR, (-74, 158), "lumbar", flip=True),
        _region("umbilical-region", "M-43 118H43V206H-43Z", (0, 140), "umbilical"),
        _region("left-lumbar", LUMBAR, (74, 158), "lumbar"),
        _region("right-iliac-fossa", ILIAC, (-76, 228), "iliac|fossa", flip=True),
        _region("suprapubic", SUPRAPUBIC, (0, 258), "suprapubic"),
        _region("left-iliac-fossa", ILIAC, (76, 228), "iliac|fossa"),
    ),
)
