"""A heart as heard under a technique, in words: sounds, gaps and noises, none of them named.

Owns wording. What is too soft to hear here is not told, so that the words are as hard as the sound.
"""

from __future__ import annotations

from collections.abc import Iterator

from casebank.domain.signs.beats.table import SPLITS, Beats
from casebank.domain.signs.breathing import breathing
from casebank.domain.signs.heart.murmurs import centre, kind_of, peak_of, shape_of
from casebank.domain.signs.heart.sources import beats_of
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.spec import HeartSound, Lesion
from casebank.domain.signs.words.audible import (
    FAINTEST_THUD_DB,
    Heard,
    heard_extra,
    heard_lesion,
    heard_sound,
)
from casebank.domain.signs.words.rhythm import beat_words

FUSED_MS = 22.0

SHAPES = {
    "ejection": "between the first and the second sound, {a} noise that swells and fades again, "
    "strongest {peak} of the gap",
    "pansystolic": "{a} noise of even strength that fills the whole gap from the first sound to "
    "the second and runs into it",
    "late-systolic": "part of the way from the first to the second sound, {a} noise begins and "
    "grows up to the second sound",
    "early-diastolic": "straight after the second sound, {a} noise that fades as it goes",
    "rumble": "a little while after the second sound, {a} noise, strongest at its start",
    "continuous": "{a} noise that never stops, strongest about the second sound",
}
EXTRAS = {
    "third-sound": "a dull, low thud soon after the second sound",
    "right-third-sound": "a dull, low thud soon after the second sound",
    "fourth-sound": "a dull, low thud just before the first sound",
    "right-fourth-sound": "a dull, low thud just before the first sound",
    "opening-snap": "a short, sharp sound a moment after the second sound",
    "ejection-click": "a short, sharp sound hard upon the first sound",
    "mid-systolic-click": "a short, sharp sound between the first and the second",
    "knock": "a firm, rather low sound shortly after the second",
    "rub": "scratching in two or three parts with each beat, as if close to the ear",
    "prosthetic-mitral": "a crisp, metallic click where the first sound should be, and a fainter "
    "one after the second",
    "prosthetic-aortic": "a crisp, metallic click where the second sound should be, and a fainter "
    "one after the first",
}


def heart_words(spec: HeartSound, setting: Setting) -> str:
    """Sentences on everything that can be heard."""
    table = beats_of(spec, setting)
    sentences = [
        beat_words(spec.rhythm, table),
        _two_sounds(spec, setting),
        _second(spec, setting),
        *_added(spec, setting, table),
        *_noises(spec, setting, table),
    ]
    return " ".join(sentence for sentence in sentences if sentence)


def _two_sounds(spec: HeartSound, setting: Setting) -> str:
    first = heard_sound("m1", spec.first_db, spec, setting).most
    second = max(
        heard_sound("a2", spec.aortic_db, spec, setting).most,
        heard_sound("p2", spec.pulmonary_db, spec, setting).most,
    )
    if max(first, second) < -16:
        return "The two sounds of each beat are very faint."
    if second < -16:
        return "Of each beat only the first sound is made out; the second is not."
    if abs(first - second) < 4:
        return "Each beat has two sounds, about equally loud."
    louder, softer = ("first", "second") if first > second else ("second", "first")
    return f"Each beat has two sounds, the {louder} louder than the {softer}."


def _second(spec: HeartSound, setting: Setting) -> str:
    """Whether the second sound is heard double here, and what breathing does to the gap."""
    heard = [
        heard_sound("a2", spec.aortic_db, spec, setting).most,
        heard_sound("p2", spec.pulmonary_db, spec, setting).most,
    ]
    if max(heard) < -16:
        return ""
    out, into = _gaps(spec, setting)
    if min(heard) < -14 or max(out, into) < FUSED_MS:
        return "The second sound is single."
    return f"The second sound is double{_gap_words(out, into)}."


def _gaps(spec: HeartSound, setting: Setting) -> tuple[float, float]:
    """Gap in ms at the emptiest and at the fullest that this breathing goes."""
    low, high = SPLITS[spec.split]
    moving = breathing(spec.patient.breath_rate, setting.breathing)
    shares = (min(max(moving.low, 0), 1), min(max(moving.high, 0), 1))
    out, into = (abs(low + (high - low) * share) for share in shares)
    return out, into


def _gap_words(out: float, into: float) -> str:
    wide = ", clearly apart" if max(out, into) > 50 else ", close together"
    if abs(into - out) < 8:
        return f"{wide}, the gap unchanged by what breathing there is"
    when = "breathing in" if into > out else "breathing out"
    closes = ", and closes up again" if min(out, into) < FUSED_MS else ""
    return f"{wide}, the gap wider {when}{closes}"


def _strength(level: float) -> str:
    for limit, words in ((-5, "barely heard"), (3, "soft"), (8, "clear"), (12, "loud")):
        if level < limit:
            return words
    return "very loud"


def _added(spec: HeartSound, setting: Setting, table: Beats) -> Iterator[str]:
    for extra in spec.extras:
        heard = heard_extra(extra, spec, setting)
        lacks_atria = extra.type.endswith("fourth-sound") and not table.has_p_waves
        if heard.most >= FAINTEST_THUD_DB and not lacks_atria:
            yield f"There is {EXTRAS[extra.type]}, {_strength(heard.most)}{_breath(heard)}."


def _noises(spec: HeartSound, setting: Setting, table: Beats) -> Iterator[str]:
    for lesion in spec.lesions:
        heard = heard_lesion(lesion, spec, setting)
        if heard.is_heard:
            words = _noise(lesion, heard, has_atria=table.has_p_waves)
            yield words[0].upper() + words[1:] + "."


def _noise(lesion: Lesion, heard: Heard, *, has_atria: bool) -> str:
    a = f"a {_strength(heard.most)}, {_pitch(lesion)}"
    words = SHAPES[shape_of(lesion)].format(a=a, peak=_peak(peak_of(lesion)))
    if shape_of(lesion) == "rumble" and lesion.presystolic and has_atria:
        words += ", swelling once more just before the first sound"
    return words + _breath(heard)


def _pitch(lesion: Lesion) -> str:
    hertz = centre(lesion)
    if hertz < 110:
        return "very low, rolling"
    if hertz < 200:
        return "low, humming"
    if kind_of(lesion).octaves > 0.7:
        return "rough, medium-pitched"
    return "blowing, rather high" if hertz > 280 else "blowing, medium-pitched"


def _peak(share: float) -> str:
    if share < 0.43:
        return "early in the first half"
    return "at the middle" if share < 0.56 else "late, past the middle"


def _breath(heard: Heard) -> str:
    if abs(heard.into - heard.out) < 2:
        return ""
    return f", louder breathing {'in' if heard.into > heard.out else 'out'}"
