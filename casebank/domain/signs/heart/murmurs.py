"""What a lesion's murmur is: its pitch, its band, its shape and who it behaves like.

Owns the table of lesions. Where it is heard is ``transmission``; its envelope ``envelopes``.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from casebank.domain.signs.signal import Signal
from casebank.domain.signs.spec import Lesion

# Jet velocity in m/s by severity (chosen within the usual bands of echocardiography).
JET = {"mild": 2.5, "moderate": 3.5, "severe": 4.3}
PEAK = {"mild": 0.35, "moderate": 0.50, "severe": 0.62}
SHARE = {"mild": 0.5, "moderate": 0.7, "severe": 0.9}
SNAP_MS = {"mild": 110.0, "moderate": 85.0, "severe": 60.0}


@dataclass(frozen=True)
class Kind:
    """A lesion's usual murmur: centre in Hz (None: by jet), octaves of band, shape, group.

    ``group`` names its row of manoeuvres; ``is_right`` times it by the pulmonary valve.
    """

    hertz: float | None
    octaves: float
    shape: str
    group: str
    is_right: bool = False
    low_ratio: float = 0.72


KINDS = {
    "aortic-stenosis": Kind(None, 0.78, "ejection", "aortic-stenosis", low_ratio=0.45),
    "pulmonary-stenosis": Kind(None, 0.78, "ejection", "right", is_right=True, low_ratio=0.45),
    "outflow-obstruction": Kind(None, 0.75, "ejection", "outflow-obstruction", low_ratio=0.45),
    "innocent": Kind(130, 0.28, "ejection", "innocent"),
    "mitral-regurgitation": Kind(320, 0.5, "pansystolic", "mitral-regurgitation"),
    "mitral-prolapse": Kind(330, 0.5, "late-systolic", "mitral-prolapse"),
    "tricuspid-regurgitation": Kind(230, 0.6, "pansystolic", "right", is_right=True),
    "ventricular-septal-defect": Kind(260, 0.85, "pansystolic", "ventricular-septal-defect"),
    "aortic-regurgitation": Kind(370, 0.5, "early-diastolic", "aortic-regurgitation"),
    "pulmonary-regurgitation": Kind(260, 0.6, "early-diastolic", "right", is_right=True),
    "mitral-stenosis": Kind(62, 0.55, "rumble", "mitral-stenosis"),
    "tricuspid-stenosis": Kind(80, 0.55, "rumble", "right", is_right=True),
    "patent-duct": Kind(260, 0.85, "continuous", "patent-duct"),
    "venous-hum": Kind(150, 0.6, "continuous", "venous-hum"),
}


def kind_of(lesion: Lesion) -> Kind:
    """The lesion's usual murmur."""
    return KINDS[lesion.type]


def shape_of(lesion: Lesion) -> str:
    """The shape of this murmur."""
    return lesion.shape or kind_of(lesion).shape


def centre(lesion: Lesion) -> float:
    """Centre frequency in Hz; for jets 66 + 0.744 v (cm/s), from Donnerstein 1989's means."""
    if lesion.pitch_hz is not None:
        return lesion.pitch_hz
    usual = kind_of(lesion).hertz
    return usual if usual is not None else 66 + 0.744 * 100 * JET[lesion.severity]


def band(hz: Signal, lesion: Lesion, *, is_low: bool = False) -> Signal:
    """Log-normal band of the murmur; ``is_low``: the duller one it has while it is soft."""
    kind = kind_of(lesion)
    middle = centre(lesion) * (kind.low_ratio if is_low else 1.0)
    octaves = np.log2(np.maximum(hz, 1.0) / middle) / kind.octaves
    return np.asarray(np.exp(-0.5 * octaves**2))


def peak_of(lesion: Lesion) -> float:
    """Where an ejection murmur peaks, as a share of it."""
    if lesion.peak is not None:
        return lesion.peak
    return 0.35 if lesion.type == "innocent" else PEAK[lesion.severity]
