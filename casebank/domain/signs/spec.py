"""The parameters of every kind of sign, as a case document stores them (pydantic).

Owns shape and limits. How a sign is looked for is the technique, a separate argument.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter

from casebank.domain.signs.spec_pictures import Picture

Level = Annotated[float, Field(ge=-40, le=12, description="dB against usual")]
Place = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=64)]
Severity = Literal["mild", "moderate", "severe"]
LesionType = Literal[
    "aortic-stenosis", "pulmonary-stenosis", "outflow-obstruction", "innocent",
    "mitral-regurgitation", "mitral-prolapse", "tricuspid-regurgitation",
    "ventricular-septal-defect", "aortic-regurgitation", "pulmonary-regurgitation",
    "mitral-stenosis", "tricuspid-stenosis", "patent-duct", "venous-hum",
]  # fmt: skip
Shape = Literal[
    "ejection", "pansystolic", "late-systolic", "early-diastolic", "rumble", "continuous"
]
ExtraType = Literal[
    "third-sound", "right-third-sound", "fourth-sound", "right-fourth-sound", "opening-snap",
    "ejection-click", "mid-systolic-click", "knock", "rub", "prosthetic-mitral",
    "prosthetic-aortic",
]  # fmt: skip
RhythmName = Literal[
    "sinus", "atrial-fibrillation", "atrial-flutter", "atrial-ectopics", "ventricular-ectopics",
    "pauses", "dropped-beats", "two-to-one-block", "complete-block", "ventricular-tachycardia",
]  # fmt: skip


class Part(BaseModel):
    """Base of every part: unknown fields are errors, instances are immutable."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Patient(Part):
    """What of the patient shapes every sign. Rates are a minute, rounded to 4 on the loop."""

    sex: Literal["female", "male"] = "female"
    age: Annotated[int, Field(ge=12, le=110)] = 50
    rate: Annotated[float, Field(ge=24, le=200)] = 72
    breath_rate: Annotated[float, Field(ge=6, le=44)] = 16
    habitus: Literal["thin", "average", "obese", "hyperinflated"] = "average"
    seed: Annotated[int, Field(ge=0, le=2**31)] = 1


class Rhythm(Part):
    """The order of beats; ``rate`` of the patient is the ventricles' mean, save in block.

    ``swing``: how far a sinus rhythm quickens from breathing out to breathing in, beats a minute,
    breathing quietly; without it, what is usual at the age.
    """

    name: RhythmName = "sinus"
    pr_ms: Annotated[float, Field(ge=80, le=400)] = 160
    every: Annotated[int, Field(ge=2, le=12, description="An early beat every so many.")] = 4
    escape_rate: Annotated[float, Field(ge=24, le=60)] = 38
    swing: Annotated[float, Field(ge=0, le=46)] | None = None


class Lesion(Part):
    """A murmur. ``grade``: as heard where and how it is best heard, in an average chest.

    ``unmoved``: values of posture, breathing or effort that leave this patient's murmur as it is
    (people differ: Lembo 1988). The rest overrides what the type implies.
    """

    type: LesionType
    grade: Annotated[int, Field(ge=1, le=6)] = 3
    severity: Severity = "moderate"
    shape: Shape | None = None
    peak: Annotated[float, Field(ge=0.15, le=0.85)] | None = None
    pitch_hz: Annotated[float, Field(ge=50, le=700)] | None = None
    presystolic: bool = True
    unmoved: tuple[Place, ...] = ()


class Extra(Part):
    """An added heart sound; ``after_ms`` counts from A2, from ejection or from P by type."""

    type: ExtraType
    level_db: Level = 0
    after_ms: Annotated[float, Field(ge=0, le=300)] | None = None


class HeartSound(Part):
    """Everything audible in the heart, wherever the stethoscope is put."""

    kind: Literal["heart-sound"] = "heart-sound"
    patient: Patient = Patient()
    rhythm: Rhythm = Rhythm()
    first_db: Level = 0
    split: Literal["single", "physiological", "wide", "fixed", "reversed"] = "physiological"
    aortic_db: Level = 0
    pulmonary_db: Level = 0
    lesions: tuple[Lesion, ...] = Field((), max_length=4)
    extras: tuple[Extra, ...] = Field((), max_length=5)
    noise_db: Annotated[float, Field(ge=-80, le=-20)] = -50
    stethoscope: Literal["contrast", "realistic"] = "contrast"


class Added(Part):
    """A sound added to breathing; ``level_db`` against its usual loudness."""

    type: Literal["wheeze", "rhonchus", "fine-crackles", "coarse-crackles", "rub", "stridor"]
    level_db: Level = 0
    phase: Literal["inspiration", "expiration", "both"] | None = None
    pitch_hz: Annotated[float, Field(ge=80, le=1200)] | None = None
    clears_on_cough: bool = False


class Zone(Part):
    """What is heard over some places of one or both sides."""

    sites: tuple[Place, ...] = Field(min_length=1)
    side: Literal["left", "right", "both"] = "both"
    quality: Literal["vesicular", "bronchial", "reduced", "absent"] = "vesicular"
    voice: Literal["usual", "increased", "bleating", "reduced", "absent"] = "usual"
    added: tuple[Added, ...] = Field((), max_length=3)


class BreathSound(Part):
    """The lungs by zone; the first zone that names a place decides, elsewhere all is usual."""

    kind: Literal["breath-sound"] = "breath-sound"
    patient: Patient = Patient()
    site: Place = Field("back-lower-zone", description="Where, if the step has no place to choose.")
    says: Literal["nothing", "spoken", "whispered"] = "nothing"
    zones: tuple[Zone, ...] = Field((), max_length=12)
    noise_db: Annotated[float, Field(ge=-80, le=-20)] = -50


class ArterialPulse(Part):
    """The pulse under the finger, in mmHg."""

    kind: Literal["arterial-pulse"] = "arterial-pulse"
    patient: Patient = Patient()
    rhythm: Rhythm = Rhythm()
    artery: Literal["carotid", "brachial", "radial", "femoral"] = "carotid"
    character: Literal[
        "normal", "slow-rising", "collapsing", "bisferiens", "alternans", "paradoxus", "small"
    ] = "normal"
    femoral_delay_ms: Annotated[float, Field(ge=0, le=200)] = 0


class VenousWave(Part):
    """The internal jugular column; ``height_cm``: top of the pulsation above the sternal
    angle, breathed out."""

    kind: Literal["venous-wave"] = "venous-wave"
    patient: Patient = Patient()
    rhythm: Rhythm = Rhythm()
    pattern: Literal[
        "normal", "giant-a", "tricuspid-regurgitation", "constriction", "tamponade"
    ] = "normal"
    height_cm: Annotated[float, Field(ge=-8, le=25)] = 1
    reflux_cm: Annotated[float, Field(ge=0, le=12, description="Rise on firm pressure.")] = 1


class RhythmStrip(Part):
    """An electrocardiogram: one lead for reading the rhythm, or twelve.

    ``q``: where Q waves are pathological. ``strain``: which ventricle's segments and T waves are
    those of strain; give its large complexes by ``voltage`` (left), they are included (right).
    """

    kind: Literal["rhythm-strip"] = "rhythm-strip"
    patient: Patient = Patient()
    rhythm: Rhythm = Rhythm()
    leads: Literal["one", "twelve"] = "one"
    conduction: Literal["normal", "right-bundle", "left-bundle"] = "normal"
    st: Literal["none", "inferior", "anterior", "lateral", "diffuse"] = "none"
    q: Literal["none", "inferior", "anterior", "lateral"] = "none"
    strain: Literal["none", "left", "right"] = "none"
    voltage: Annotated[float, Field(ge=0.2, le=3)] = 1
    qtc_ms: Annotated[float, Field(ge=300, le=620)] = 410


Spec = Annotated[
    HeartSound | BreathSound | ArterialPulse | VenousWave | RhythmStrip | Picture,
    Field(discriminator="kind"),
]

ADAPTER: TypeAdapter[
    HeartSound | BreathSound | ArterialPulse | VenousWave | RhythmStrip | Picture
] = TypeAdapter(Spec)
