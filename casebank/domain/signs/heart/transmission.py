"""How loud each component is at each place, in dB against its best place.

Owns one table. Sizes are chosen; their order is that of teaching texts and is what tests check.
"""

from __future__ import annotations

COLUMNS = (
    "aortic-area", "pulmonary-area", "left-sternal-edge", "tricuspid-area", "apex", "axilla",
    "carotid", "left-infraclavicular",
)  # fmt: skip

TABLE: dict[str, tuple[float, ...]] = {
    "m1": (-9, -8, -5, -3, 0, -8, -26, -12),
    "t1": (-16, -12, -5, 0, -8, -18, -34, -18),
    "a2": (0, -2, -3, -6, -6, -12, -8, -8),
    "p2": (-12, 0, -7, -11, -18, -26, -34, -8),
    "third-sound": (-26, -24, -14, -9, 0, -9, -40, -26),
    "right-third-sound": (-26, -20, -6, 0, -12, -24, -40, -26),
    "fourth-sound": (-26, -24, -14, -9, 0, -9, -40, -26),
    "right-fourth-sound": (-26, -20, -6, 0, -12, -24, -40, -26),
    "knock": (-12, -10, -3, -2, 0, -8, -34, -16),
    "opening-snap": (-10, -7, -2, -3, 0, -10, -30, -14),
    "ejection-click": (-2, -4, -4, -6, -1, -10, -12, -10),
    "mid-systolic-click": (-14, -12, -6, -5, 0, -8, -30, -18),
    "rub": (-8, -5, 0, -2, -5, -14, -34, -12),
    "prosthetic-mitral": (-10, -9, -5, -4, 0, -6, -26, -12),
    "prosthetic-aortic": (0, -3, -3, -6, -6, -12, -10, -8),
    "aortic-stenosis": (0, -4, -5, -10, -6, -14, -4, -10),
    "pulmonary-stenosis": (-7, 0, -5, -10, -16, -24, -16, -4),
    "outflow-obstruction": (-9, -8, 0, -5, -2, -10, -16, -14),
    "innocent": (-8, -3, 0, -4, -6, -16, -20, -12),
    "mitral-regurgitation": (-15, -14, -8, -7, 0, -3, -30, -18),
    "mitral-prolapse": (-15, -14, -8, -7, 0, -3, -30, -18),
    "tricuspid-regurgitation": (-20, -14, -4, 0, -9, -20, -34, -22),
    "ventricular-septal-defect": (-13, -9, 0, -2, -9, -18, -30, -16),
    "aortic-regurgitation": (-5, -4, 0, -5, -8, -16, -26, -12),
    "pulmonary-regurgitation": (-12, 0, -3, -8, -18, -26, -34, -8),
    "mitral-stenosis": (-28, -26, -16, -12, 0, -10, -42, -28),
    "tricuspid-stenosis": (-26, -20, -6, 0, -10, -22, -40, -26),
    "patent-duct": (-9, -3, -6, -12, -15, -22, -20, 0),
    "venous-hum": (-6, -10, -18, -26, -34, -36, -2, -6),
}

DERIVED = ("right-clavicle", "between-scapulae", "subxiphoid", "lung-bases")
SITES = (*COLUMNS, *DERIVED)
# Best place of a component that is loudest at a derived one.
BEST_AT = {"venous-hum": ("right-clavicle", 0.0)}


def site_db(component: str, site: str) -> float:
    """Level in dB at the site against the component's best place."""
    row = dict(zip(COLUMNS, TABLE[component], strict=True))
    if site in row:
        return row[site]
    best = BEST_AT.get(component)
    if best and best[0] == site:
        return best[1]
    return _derived(row, site)


def _derived(row: dict[str, float], site: str) -> float:
    """Places between or behind the areas, reckoned from them."""
    if site == "right-clavicle":
        return max((row["aortic-area"] + row["carotid"]) / 2 - 1, row["aortic-area"] - 12)
    if site == "subxiphoid":
        return row["tricuspid-area"] - 4
    if site == "between-scapulae":
        return max(row["left-infraclavicular"] - 10, row["axilla"] - 12)
    return -20 + min(0.0, row["apex"])
