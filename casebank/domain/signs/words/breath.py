"""Lungs as heard under a technique, in words."""

from __future__ import annotations

from casebank.domain.signs.breath.listen import turns_of, zone_at
from casebank.domain.signs.breathing import breathing
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.spec import Added, BreathSound, Zone

QUALITY = {
    "vesicular": "the sound of air is soft and rustling, longer and louder breathing in, with no "
    "gap before breathing out",
    "bronchial": "the sound of air is harsh and hollow, as loud and as long breathing out as in, "
    "with a gap between",
    "reduced": "the sound of air is faint, though soft and rustling",
    "absent": "no sound of air is heard",
}
VOICE = {
    "spoken": {
        "usual": "the voice is a low mumble; the words cannot be made out",
        "increased": "the voice is loud and every word clear",
        "bleating": "the voice is clear but nasal and quavering",
        "reduced": "the voice is a faint murmur",
        "absent": "the voice is not heard",
    },
    "whispered": {
        "usual": "the whisper is hardly heard",
        "increased": "the whisper is clear, as if spoken into the ear",
        "bleating": "the whisper is heard, thin and nasal",
        "reduced": "nothing of the whisper is heard",
        "absent": "nothing of the whisper is heard",
    },
}
ADDED = {
    "wheeze": "long musical notes",
    "rhonchus": "long, low, snoring notes",
    "fine-crackles": "many very short, high popping sounds",
    "coarse-crackles": "fewer, longer, lower bubbling pops",
    "rub": "creaking in short bursts, the same backwards on the other half of the breath",
    "stridor": "one harsh, high note, loudest at the neck",
}
WHEN = {
    "wheeze": "expiration", "rhonchus": "expiration", "fine-crackles": "late",
    "coarse-crackles": "early", "rub": "both", "stridor": "inspiration",
}  # fmt: skip
PHASE = {
    "inspiration": "breathing in", "expiration": "breathing out", "both": "breathing in and out",
    "late": "late in breathing in", "early": "early in breathing in",
}  # fmt: skip


def breath_words(spec: BreathSound, setting: Setting) -> str:
    """Sentences on what is heard at each place, alike ones together."""
    if spec.says == "nothing" and breathing(spec.patient.breath_rate, setting.breathing).is_still:
        return "The breath is held: no sound of air is heard."
    places: dict[str, list[str]] = {}
    for site, side in turns_of(setting):
        words = _place_words(spec, zone_at(spec, site, side), setting)
        name = site.replace("-", " ") if side == "both" else f"{side} {site.replace('-', ' ')}"
        places.setdefault(words, []).append(name)
    return " ".join(f"{_listed(names)}: {words}." for words, names in places.items())


def _listed(names: list[str]) -> str:
    text = ", ".join(names)
    return text[0].upper() + text[1:]


def _place_words(spec: BreathSound, zone: Zone, setting: Setting) -> str:
    if spec.says != "nothing":
        return VOICE[spec.says][zone.voice]
    parts = [QUALITY[zone.quality]]
    parts += [_added_words(added) for added in zone.added if _stays(added, setting)]
    return "; ".join(parts)


def _stays(added: Added, setting: Setting) -> bool:
    return not (added.clears_on_cough and setting.breathing == "after-cough")


def _added_words(added: Added) -> str:
    soft = "faint " if added.level_db < -5 else ""
    when = PHASE[added.phase or WHEN[added.type]]
    words = ADDED[added.type]
    if added.type == "wheeze":
        words += ", all of one pitch" if added.pitch_hz else ", of several pitches at once"
    return f"besides, {soft}{words}, {when}"
