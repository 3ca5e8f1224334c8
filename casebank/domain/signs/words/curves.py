"""Pulses, neck veins and electrocardiograms, in words."""

from __future__ import annotations

import numpy as np

from casebank.domain.signs.beats.table import Beats
from casebank.domain.signs.curves.venous import PRESSED, visible
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.signal import Signal
from casebank.domain.signs.spec import ArterialPulse, RhythmStrip, VenousWave
from casebank.domain.signs.words.rhythm import beat_words

CHARACTER = {
    "normal": "Each beat rises briskly, is of medium size and falls away smoothly",
    "slow-rising": "Each beat is small and climbs slowly to a late, long top",
    "collapsing": "Each beat is large, strikes up sharply and falls away at once",
    "bisferiens": "Each beat has two peaks, close together",
    "alternans": "Strong and weak beats take turns, though evenly spaced",
    "paradoxus": "The beats shrink markedly as breath is drawn in, and recover breathing out",
    "small": "Each beat rises at the usual speed but is small",
}
PATTERN = {
    "normal": "two gentle waves a beat, one just before the arterial pulse, one just after it",
    "giant-a": "one tall flick in every beat, just before the arterial pulse, and a low wave after",
    "tricuspid-regurgitation": "one large, broad wave a beat, together with the arterial pulse",
    "constriction": "two waves a beat, each followed by a drop, the one after the pulse "
    "sudden, deep and brief",
    "tamponade": "two waves a beat; it drops during the arterial pulse and hardly at all after it",
}
P_WAVES = {
    "sinus": "A small rounded wave stands before every tall complex, always the same distance",
    "atrial-fibrillation": "The line between complexes trembles; no small rounded wave is seen",
    "atrial-flutter": "The line between complexes is a row of equal saw teeth",
    "atrial-ectopics": "A small rounded wave stands before every tall complex",
    "ventricular-ectopics": "A small rounded wave stands before all but the early complexes, "
    "which are broad and differ in shape",
    "pauses": "A small rounded wave stands before every tall complex; in the long gap there is "
    "nothing",
    "dropped-beats": "The distance from the small rounded wave to the complex grows over three "
    "beats; the fourth small wave has no complex",
    "two-to-one-block": "There are two small rounded waves to every tall complex",
    "complete-block": "Small rounded waves and broad complexes both come evenly, but with no fixed "
    "distance between them",
    "ventricular-tachycardia": "The complexes are broad; small waves fall on them here and there",
}
CONDUCTION = {
    "normal": "",
    "right-bundle": "The complexes are broad, with a second upward peak in V1 and a broad last "
    "downstroke in I and V6.",
    "left-bundle": "The complexes are broad, upward in I and V6 and deeply downward in V1.",
}
RAISED = {
    "none": "",
    "inferior": "The segment after the complex is raised in II, III and aVF, lowered in I and aVL.",
    "anterior": "The segment after the complex is raised in V1 to V4.",
    "lateral": "The segment after the complex is raised in I, aVL, V5 and V6.",
    "diffuse": "The segment after the complex is raised in nearly every lead.",
}
DEEP = {
    "none": "",
    "inferior": "In II, III and aVF each complex begins with a broad, deep downstroke.",
    "anterior": "In V1 to V3 the complex is all downward, without an upstroke; in V4 it begins "
    "with a broad, deep downstroke.",
    "lateral": "In I, aVL, V5 and V6 each complex begins with a broad, deep downstroke.",
}
SAGS = "the line after the complex sags slowly into an upside-down wave and comes back quickly"
SAGGING = {
    "none": "",
    "left": f"In I, aVL, V5 and V6 {SAGS}.",
    "right": f"In V1 to V3, III and aVF {SAGS}; in V1 the complex points upward.",
}
LARGE, SMALL = 1.4, 0.5
"""Voltage from which, and up to which, the size of the complexes is told."""


def pulse_words(spec: ArterialPulse, table: Beats) -> str:
    """Sentences on the pulse under the finger."""
    words = [beat_words(spec.rhythm, table), CHARACTER[spec.character] + "."]
    if spec.rhythm.name == "atrial-fibrillation":
        words.append("The beats also differ in size.")
    if spec.artery == "femoral" and spec.femoral_delay_ms >= 40:
        words.append("It comes clearly later than the pulse at the wrist, and is weaker.")
    return " ".join(words)


def venous_words(spec: VenousWave, table: Beats, heights: Signal, setting: Setting) -> str:
    """Sentences on the column: where its top stands, its waves, and what moves it."""
    low, high = visible(setting)
    top = float(np.percentile(heights, 98))
    if top < low:
        return "No movement is seen in the neck: the column ends below the collar bone."
    if float(np.percentile(heights, 2)) > high:
        return "The vein is full up to the jaw and beyond; no top can be seen."
    end = "above the jaw, out of sight" if top > high else f"about {top:.0f} cm up the ruler"
    words = [f"The column moves softly; at its highest it stands {end}.", _waves(spec, table)]
    return " ".join([*words, *_moved(spec, setting)])


def _waves(spec: VenousWave, table: Beats) -> str:
    if spec.pattern == "normal" and not len(table.atrial):
        return "Each beat has one wave, just after the arterial pulse; none before it."
    words = f"What is seen: {PATTERN[spec.pattern]}."
    times = table.atrial + 0.110
    shut = table.is_closed(times) if len(times) else np.zeros(0, dtype=bool)
    if shut.any() and not shut.all():
        words += " Now and then, not with every beat, a very tall flick shoots up."
    return words


def _moved(spec: VenousWave, setting: Setting) -> list[str]:
    found = []
    if not setting.is_held:
        rises = spec.pattern == "constriction"
        found.append(f"Breathing in, it {'rises' if rises else 'sinks a little'}.")
    if setting.effort in PRESSED:
        stays = spec.reflux_cm >= 3
        ending = "stays up" if stays else "sinks back"
        found.append(f"While the abdomen is pressed it rises and {ending}.")
    return found


def strip_words(spec: RhythmStrip, table: Beats) -> str:
    """Sentences on the paper: order, waves, widths and distances in small squares."""
    words = [beat_words(spec.rhythm, table), P_WAVES[spec.rhythm.name] + "."]
    if spec.rhythm.name in ("sinus", "atrial-ectopics", "pauses"):
        words.append(f"That distance is {spec.rhythm.pr_ms / 40:.1f} small squares.")
    if spec.leads == "twelve":
        words += [CONDUCTION[spec.conduction], DEEP[spec.q], RAISED[spec.st]]
        words += [SAGGING[spec.strain], _size(spec.voltage)]
    return " ".join(word for word in words if word)


def _size(voltage: float) -> str:
    if SMALL < voltage < LARGE:
        return ""
    return f"The complexes are very {'large' if voltage >= LARGE else 'small'}."
