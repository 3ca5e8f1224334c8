"""Sizes of the waves in each lead, for twelve of them.

Owns one table in mV: common practice, no source. Limb leads follow from I and II by Einthoven's
law, so that they agree as they do on paper.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from casebank.domain.signs.signal import Signal


@dataclass(frozen=True)
class Waves:
    """mV of P, Q, R, S and T; ``late`` follows R by 55 ms; ``st`` lifts the segment.

    ``deep`` is a broad Q; ``strain`` turns the T wave over, from a sagging segment.
    """

    p: float
    q: float
    r: float
    s: float
    t: float
    late: float = 0.0
    st: float = 0.0
    deep: float = 0.0
    strain: float = 0.0


LEADS = ("I", "II", "III", "aVR", "aVL", "aVF", "V1", "V2", "V3", "V4", "V5", "V6")
MEASURED = ("I", "II", "V1", "V2", "V3", "V4", "V5", "V6")

NORMAL = {
    "I": Waves(0.08, -0.05, 0.65, -0.12, 0.20),
    "II": Waves(0.13, -0.10, 1.15, -0.22, 0.30),
    "V1": Waves(0.06, 0, 0.25, -0.95, -0.06),
    "V2": Waves(0.08, 0, 0.45, -1.35, 0.45),
    "V3": Waves(0.08, 0, 0.85, -0.90, 0.50),
    "V4": Waves(0.08, -0.05, 1.55, -0.50, 0.45),
    "V5": Waves(0.08, -0.10, 1.45, -0.25, 0.35),
    "V6": Waves(0.07, -0.10, 1.05, -0.10, 0.25),
}
LATE = {"I": -0.30, "II": -0.15, "V1": 0.85, "V2": 0.55, "V5": -0.25, "V6": -0.30}
LEFT = {
    "I": Waves(0.08, 0, 0.90, 0, -0.20), "II": Waves(0.13, 0, 0.75, -0.10, -0.10),
    "V1": Waves(0.06, 0, 0.10, -1.30, 0.35), "V2": Waves(0.08, 0, 0.12, -1.80, 0.50),
    "V3": Waves(0.08, 0, 0.15, -1.50, 0.45), "V4": Waves(0.08, 0, 0.60, -0.80, 0.15),
    "V5": Waves(0.08, 0, 1.05, -0.10, -0.20), "V6": Waves(0.07, 0, 1.10, 0, -0.25),
}  # fmt: skip
ST = {
    "none": {},
    "inferior": {"I": -0.10, "II": 0.20, "V2": -0.08},
    "anterior": {"V1": 0.12, "V2": 0.32, "V3": 0.36, "V4": 0.26},
    "lateral": {"I": 0.18, "II": 0.04, "V5": 0.20, "V6": 0.20},
    "diffuse": {"I": 0.11, "II": 0.16, "V2": 0.12, "V3": 0.13, "V4": 0.14, "V5": 0.13, "V6": 0.11},
}  # fmt: skip
# mV of a broad Q, and what is left of R beside it; V1 to V3 lose R altogether (QS).
DEEP: dict[str, dict[str, tuple[float, float]]] = {
    "none": {},
    "inferior": {"I": (0.04, 1.0), "II": (-0.38, 0.8)},
    "anterior": {"V1": (-0.3, 0), "V2": (-0.5, 0), "V3": (-0.5, 0), "V4": (-0.4, 0.5)},
    "lateral": {"I": (-0.32, 0.8), "II": (-0.03, 1.0), "V5": (-0.4, 0.6), "V6": (-0.38, 0.7)},
}
# mV of the inverted T wave; in the leads across from it T stays upright.
STRAIN: dict[str, dict[str, float]] = {
    "none": {},
    "left": {"I": -0.24, "II": -0.06, "V4": -0.04, "V5": -0.30, "V6": -0.28},
    "right": {"II": -0.16, "V1": -0.26, "V2": -0.30, "V3": -0.24, "V4": -0.08},
}
RIGHT_LARGE = {"I": (0.5, -0.7), "V1": (0.95, -0.25), "V2": (0.8, -0.5), "V5": (0.8, -0.75),
               "V6": (0.6, -0.7)}  # fmt: skip
"""R and S in mV where the right ventricle is large: the axis to the right, R tall in V1."""


def waves_in(lead: str, conduction: str, st: str, q: str = "none", strain: str = "none") -> Waves:
    """The waves of a measured lead."""
    base = (LEFT if conduction == "left-bundle" else NORMAL)[lead]
    late = LATE.get(lead, 0.0) if conduction == "right-bundle" else 0.0
    deep, left = DEEP[q].get(lead, (0.0, 1.0))
    r, s = RIGHT_LARGE.get(lead, (base.r, base.s)) if strain == "right" else (base.r, base.s)
    turned = STRAIN[strain].get(lead, 0.0)
    return replace(
        base,
        q=base.q if deep == 0 else 0.0,
        r=r * left,
        s=s,
        t=0.0 if turned else base.t,
        late=late,
        st=ST[st].get(lead, 0.0),
        deep=deep,
        strain=turned,
    )


def derived(measured: dict[str, Signal]) -> dict[str, Signal]:
    """All twelve: III = II - I, aVR = -(I + II)/2, aVL = I - II/2, aVF = II - I/2."""
    one, two = measured["I"], measured["II"]
    limb = {
        "I": one, "II": two, "III": two - one, "aVR": -(one + two) / 2,
        "aVL": one - two / 2, "aVF": two - one / 2,
    }  # fmt: skip
    return {lead: np.asarray(limb.get(lead, measured.get(lead))) for lead in LEADS}
