"""What the fields of a sign are called, their units, and what an author should know of each."""

from __future__ import annotations

from casebank.cases.forms.fields import Choices
from casebank.cases.forms.raw import shown
from casebank.cases.forms.sign_shape import Leaf
from casebank.domain.signs.spec_pictures import SIGNS_OF

KINDS: Choices = (
    ("heart-sound", "Heart sounds"),
    ("breath-sound", "Breath sounds"),
    ("arterial-pulse", "Arterial pulse"),
    ("venous-wave", "Venous wave of the neck"),
    ("rhythm-strip", "Electrocardiogram"),
    ("picture", "Picture"),
)
TITLES = {
    "HeartSound": "Heart sounds", "BreathSound": "Breath sounds", "ArterialPulse": "Pulse",
    "VenousWave": "Venous wave", "RhythmStrip": "Electrocardiogram", "Picture": "Picture",
    "Patient": "The patient", "Rhythm": "Rhythm",
}  # fmt: skip
NOUNS = {"Lesion": "a murmur", "Extra": "an extra sound", "Zone": "a zone", "Added": "a sound"}
"""What one row of a list is called, with its article."""
ABOUT = {
    "lesions": ("Murmurs", "Each with the lesion that makes it."),
    "extras": ("Extra sounds", "Third and fourth sounds, snaps, clicks and rubs."),
    "zones": ("Zones", "The first that names a place decides; elsewhere all is usual."),
    "added": ("Added sounds", "Heard on top of the breathing in this zone."),
}
"""What a list is called, and what it is for."""

_LEVEL = "Against usual"
WORDS: dict[str, tuple[str, str, str]] = {
    "Patient.sex": ("Sex", "", ""),
    "Patient.age": ("Age", "years", ""),
    "Patient.rate": ("Heart rate", "beats a minute", "Kept to multiples of 4"),
    "Patient.breath_rate": ("Breathing rate", "breaths a minute", "Kept to multiples of 4"),
    "Patient.habitus": ("Build of the chest", "", ""),
    "Patient.seed": ("Seed", "", "Another number, another patient with the same sign"),
    "Rhythm.name": ("Rhythm", "", ""),
    "Rhythm.pr_ms": ("PR interval", "ms", ""),
    "Rhythm.every": ("An early beat every so many", "beats", "For ectopic beats"),
    "Rhythm.escape_rate": ("Escape rate", "beats a minute", "For complete block"),
    "Rhythm.swing": (
        "Swing with breathing", "beats a minute", "For sinus rhythm; empty: usual at the age"
    ),
    "HeartSound.first_db": ("First sound", "dB", _LEVEL),
    "HeartSound.split": ("Splitting of the second sound", "", ""),
    "HeartSound.aortic_db": ("Aortic part of the second sound", "dB", _LEVEL),
    "HeartSound.pulmonary_db": ("Pulmonary part of the second sound", "dB", _LEVEL),
    "HeartSound.noise_db": ("Background noise", "dB", ""),
    "HeartSound.stethoscope": (
        "Stethoscope", "", "Contrast makes bell and diaphragm differ more than measured"
    ),
    "Lesion.type": ("Lesion", "", ""),
    "Lesion.grade": ("Grade", "", "As heard where and how it is best heard"),
    "Lesion.severity": ("Severity", "", ""),
    "Lesion.shape": ("Timing and shape", "", ""),
    "Lesion.peak": ("Peak", "of its length", "Where it is loudest, from its start"),
    "Lesion.pitch_hz": ("Pitch", "Hz", ""),
    "Lesion.presystolic": ("Louder before the first sound", "", "For stenosis of an inflow valve"),
    "Lesion.unmoved": ("Not changed by", "", "What leaves this patient's murmur as it is"),
    "Extra.type": ("Sound", "", ""),
    "Extra.level_db": ("Loudness", "dB", _LEVEL),
    "Extra.after_ms": (
        "Delay", "ms", "After the aortic second sound, ejection or the P wave, by its type"
    ),
    "BreathSound.site": ("Where, if the step leaves the place open", "", ""),
    "BreathSound.says": ("The patient says", "", ""),
    "BreathSound.noise_db": ("Background noise", "dB", ""),
    "Zone.sites": ("Places", "", "At least one"),
    "Zone.side": ("Side of the chest", "", ""),
    "Zone.quality": ("Breath sounds", "", ""),
    "Zone.voice": ("Voice", "", ""),
    "Added.type": ("Sound", "", ""),
    "Added.level_db": ("Loudness", "dB", _LEVEL),
    "Added.phase": ("Heard in", "", ""),
    "Added.pitch_hz": ("Pitch", "Hz", ""),
    "Added.clears_on_cough": ("Clears on coughing", "", ""),
    "ArterialPulse.artery": ("Artery", "", ""),
    "ArterialPulse.character": ("Character", "", ""),
    "ArterialPulse.femoral_delay_ms": ("Delay of the femoral pulse", "ms", ""),
    "VenousWave.pattern": ("Pattern", "", ""),
    "VenousWave.height_cm": ("Height", "cm", "Above the sternal angle, breathed out"),
    "VenousWave.reflux_cm": ("Rise on firm pressure", "cm", ""),
    "RhythmStrip.leads": ("Leads", "", ""),
    "RhythmStrip.conduction": ("Conduction", "", ""),
    "RhythmStrip.st": ("ST elevation", "", ""),
    "RhythmStrip.q": ("Pathological Q waves", "", ""),
    "RhythmStrip.strain": ("Strain", "", ""),
    "RhythmStrip.voltage": ("Size of the complexes", "times usual", ""),
    "RhythmStrip.qtc_ms": ("Corrected QT interval", "ms", ""),
    "Picture.subject": ("Part of the body", "", ""),
    "Picture.signs": ("Signs", "", "At most four, of the part of the body"),
    "Picture.degree": ("How marked", "", "0 hardly, 1 fully"),
    "Picture.skin": ("Skin", "", "1 lightest, 6 darkest"),
    "Picture.seed": ("Seed", "", "Another number, another drawing of the same sign"),
}  # fmt: skip


def label_of(leaf: Leaf) -> str:
    """What the field is called."""
    return WORDS[leaf.path][0] if leaf.path in WORDS else plain(leaf.key)


def hint_of(leaf: Leaf) -> str:
    """What to know, the range with its unit, and what holds where nothing is set."""
    _, unit, note = WORDS.get(leaf.path, ("", "", ""))
    said = [note, _range(leaf, unit), _usual(leaf)]
    return " ".join(f"{one}." for one in said if one)


def choices_for(leaf: Leaf) -> Choices:
    """The options in words; first the one that leaves the field unset, where it may be."""
    if leaf.path == "Picture.signs":
        return [
            (sign, f"{plain(sign)} ({part})") for part, signs in SIGNS_OF.items() for sign in signs
        ]
    options = ("true", "false") if leaf.shape == "truth" else leaf.options
    names = {"true": "Yes", "false": "No"}
    told = [(one, names.get(one, plain(one))) for one in options]
    if leaf.is_required or leaf.shape == "ticks":
        return told
    usual = names.get(text_of(leaf.usual), plain(text_of(leaf.usual)))
    return [("", f"As usual: {usual.lower()}" if usual else "As its type implies"), *told]


def plain(slug: str) -> str:
    """A slug as words, the first with a capital."""
    return slug.replace("-", " ").replace("_", " ").capitalize()


def text_of(value: object) -> str:
    """A value of the specification as a control of the form holds it."""
    return str(value).lower() if isinstance(value, bool) else shown(value)


def _range(leaf: Leaf, unit: str) -> str:
    if leaf.low is None or leaf.high is None:
        return ""
    span = f"{_signed(leaf.low)} to {_signed(leaf.high)}"
    return f"{span} {unit}".strip()


def _usual(leaf: Leaf) -> str:
    is_number = leaf.shape in ("number", "whole")
    return f"Empty: {_signed(leaf.usual)}" if is_number and leaf.usual is not None else ""


def _signed(value: float) -> str:
    return f"{value:,g}".replace("-", "−") if abs(value) < 1e6 else f"{value:,.0f}"
