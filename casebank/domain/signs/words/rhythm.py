"""How the beat goes, in words: speed and order as they would be counted, not named."""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.beats.table import Beats
from casebank.domain.signs.signal import LENGTH
from casebank.domain.signs.spec import Rhythm

ORDER = {
    "sinus": "in even time",
    "atrial-fibrillation": "with no two gaps alike and no pattern in them",
    "atrial-flutter": "in perfectly even time",
    "atrial-ectopics": "mostly even; one beat in {every} comes early, the next a little late",
    "ventricular-ectopics": "mostly even; one beat in {every} comes early, the next much late",
    "pauses": "even, but once there is a gap of nearly three seconds",
    "dropped-beats": "in groups of three with a gap after each group",
    "two-to-one-block": "in perfectly even time",
    "complete-block": "in perfectly even time",
    "ventricular-tachycardia": "in perfectly even time",
}
SWINGING = "quickening a little with each breath in and slowing with each breath out"
UNEVEN = 0.120
"""Difference in s of the longest and the shortest interval that is called sinus arrhythmia:
120 ms, the usual criterion of electrocardiography."""


def beat_words(rhythm: Rhythm, table: Beats) -> str:
    """A sentence on speed and order."""
    rate = round(60 * len(table.r) / LENGTH)
    order = ORDER[rhythm.name].format(every=rhythm.every)
    if rhythm.name == "sinus" and np.ptp(table.before) > UNEVEN:
        order = SWINGING
    return f"About {rate} beats a minute, {order}."
