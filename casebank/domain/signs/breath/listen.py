"""The stethoscope on the lungs: what each place gives, in turn where several are asked for.

Owns zones, turns and the one gain of a patient. Where both sides are asked for, left and right
take turns breath by breath; for all zones, one breath at each place from above downwards.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from casebank.domain.signs.breath.added import Air, added_loop
from casebank.domain.signs.breath.air import air
from casebank.domain.signs.breath.voice import voice_loop
from casebank.domain.signs.breathing import Breathing, breathing
from casebank.domain.signs.chestpiece import HABITUS, chest_piece
from casebank.domain.signs.rendered import Mark
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.signal import (
    COUNT,
    LENGTH,
    RATE,
    Signal,
    coloured_noise,
    frequencies,
    gain,
    shaped,
    stream,
    stretched,
    times,
)
from casebank.domain.signs.spec import Added, BreathSound, Zone

ZONES = (
    "lung-apex", "front-upper-zone", "front-mid-zone", "front-lower-zone", "chest-side",
    "back-upper-zone", "back-mid-zone", "back-lower-zone",
)  # fmt: skip
OTHERS = ("all-zones", "trachea", "lung-bases", "clavicle", "axilla")
SITES = (*ZONES, *OTHERS)
SAME = {"lung-bases": "back-lower-zone", "axilla": "chest-side", "clavicle": "lung-apex"}
USUAL = Zone(sites=("usual",))
TUBE = Zone(sites=("trachea",), quality="bronchial", voice="increased")
PEAK, CEILING = gain(-6), gain(-3)
STRIDOR_AWAY = -10.0

Turn = tuple[str, str]


def zone_at(spec: BreathSound, site: str, side: str) -> Zone:
    """What is at the place: the first zone that names it, else usual lung (or the windpipe)."""
    place = SAME.get(site, site)
    for zone in spec.zones:
        if place in {SAME.get(name, name) for name in zone.sites} and zone.side in (side, "both"):
            return zone
    return TUBE if place == "trachea" else USUAL


def turns_of(setting: Setting) -> tuple[Turn, ...]:
    """The places listened to, in their order."""
    sides = ("left", "right") if setting.side == "both" else (setting.side,)
    if setting.site == "trachea":
        return (("trachea", "both"),)
    sites = ZONES if setting.site == "all-zones" else (setting.site,)
    return tuple((site, side) for site in sites for side in sides)


def breath_loop(
    spec: BreathSound, setting: Setting, stretch: int = 1
) -> tuple[Signal, tuple[Mark, ...], Breathing]:
    """The sound, where each place begins, and the breathing. Length: 15 s, or a breath a place.

    ``stretch``: how many times longer all of it lasts, its pitch kept.
    """
    moving = breathing(spec.patient.breath_rate, setting.breathing)
    turns = turns_of(setting)
    loops = [place_loop(spec, turn, moving, setting, stretch) for turn in turns]
    period = LENGTH * stretch / (1 if len(turns) == 1 else moving.breaths)
    whole = loops[0] if len(turns) == 1 else _in_turn(loops, period, moving.breaths)
    marks = () if len(turns) == 1 else _marks(turns, period, len(whole) / RATE)
    heard = whole * patient_gain(spec)
    return np.clip(heard, -CEILING, CEILING), marks, moving


def seconds_of(spec: BreathSound, setting: Setting) -> float:
    """The length of ``breath_loop``, without making it."""
    turns, breaths = (
        turns_of(setting),
        breathing(spec.patient.breath_rate, setting.breathing).breaths,
    )
    return LENGTH if len(turns) == 1 else _moves(len(turns), breaths) * LENGTH / breaths


def _moves(places: int, breaths: int) -> int:
    """Breaths listened to: every place once, and whole rounds of what a loop holds."""
    return max(places, breaths + breaths % places)


def _in_turn(loops: list[Signal], period: float, breaths: int) -> Signal:
    """One breath of each loop after another, around again up to at least one loop's length."""
    total = _moves(len(loops), breaths)
    cuts = np.round(np.arange(breaths + 1) * period * RATE).astype(int)
    pieces = []
    for turn in range(total):
        first, last = cuts[turn % breaths], cuts[turn % breaths + 1]
        pieces.append(_faded(loops[turn % len(loops)][first:last]))
    return np.concatenate(pieces)


def _faded(piece: Signal) -> Signal:
    """Edges of 20 ms, so that moving the stethoscope makes no click."""
    width = int(0.02 * RATE)
    ramp = 0.5 - 0.5 * np.cos(np.pi * np.arange(width) / width)
    faded = piece.copy()
    faded[:width] *= ramp
    faded[-width:] *= ramp[::-1]
    return faded


def _marks(turns: tuple[Turn, ...], period: float, seconds: float) -> tuple[Mark, ...]:
    count = round(seconds / period)
    named = [turns[turn % len(turns)] for turn in range(count)]
    return tuple(
        Mark(turn * period, f"{side} {site.replace('-', ' ')}")
        for turn, (site, side) in enumerate(named)
    )


def place_loop(
    spec: BreathSound, turn: Turn, moving: Breathing, setting: Setting, stretch: int = 1
) -> Signal:
    """The loop at one place, without the patient's gain."""
    zone, name = zone_at(spec, *turn), f"{turn[0]}:{turn[1]}"
    if spec.says == "nothing":
        heard = _breathed(spec, zone, name, moving, setting, stretch)
    else:
        heard = voice_loop(spec.patient, spec.says, zone.voice, name, stretch)
    return shaped(heard, _filter(spec, setting.instrument, len(heard))) + room(spec, len(heard))


def _breathed(
    spec: BreathSound,
    zone: Zone,
    name: str,
    moving: Breathing,
    setting: Setting,
    stretch: int = 1,
) -> Signal:
    if moving.is_still:
        return np.zeros(COUNT * stretch)
    flow = stretched(moving.flow(times()), stretch)
    heard = air(zone.quality, spec.patient.seed, flow, name)
    for added in (*zone.added, *_from_the_neck(spec, zone)):
        if not (added.clears_on_cough and setting.breathing == "after-cough"):
            heard = heard + added_loop(Air(added, moving, spec.patient.seed, name, stretch))
    return heard


def _from_the_neck(spec: BreathSound, zone: Zone) -> tuple[Added, ...]:
    """Stridor is heard all over the chest, softer than in the neck."""
    found = [
        added for other in spec.zones if other != zone and "trachea" in other.sites
        for added in other.added if added.type == "stridor"
    ]  # fmt: skip
    return tuple(
        added.model_copy(update={"level_db": added.level_db + STRIDOR_AWAY}) for added in found
    )


def _filter(spec: BreathSound, instrument: str, count: int) -> Signal:
    """The chest piece; of the chest wall only its level, for the spectra are those of the skin."""
    return chest_piece(frequencies(count), instrument) * gain(HABITUS[spec.patient.habitus][0])


@lru_cache(maxsize=8)
def room(spec: BreathSound, count: int) -> Signal:
    """Ward noise, pink from 40 Hz; 0 dB is three times the RMS of a deep breath at its peak."""
    hz = frequencies(count)
    pink = np.where(hz >= 40, 1 / np.sqrt(np.maximum(hz, 40)), 0.0)
    return coloured_noise(stream(spec.patient.seed, "ward"), pink, count) * 3 * gain(spec.noise_db)


@lru_cache(maxsize=64)
def patient_gain(spec: BreathSound) -> float:
    """The factor that takes the loudest place, breathed deeply, to -6 dBFS.

    Usual lung always counts as one of the places, so that a quiet chest stays quiet; voices are
    all measured against speech through solid lung, so that a muffled one stays muffled.
    """
    return PEAK / (_loudest_breath(spec) if spec.says == "nothing" else _loudest_voice(spec))


def _loudest_voice(spec: BreathSound) -> float:
    heard = voice_loop(spec.patient, "spoken", "increased", "reference")
    piece = chest_piece(frequencies(), "diaphragm")
    return float(np.abs(shaped(heard, piece)).max())


def _loudest_breath(spec: BreathSound) -> float:
    zones = {
        zone_at(spec, site, side): (site, side)
        for site in ("trachea", *ZONES)
        for side in ("left", "right")
    }
    if spec.site != "trachea":
        zones.pop(TUBE, None)
    moving = breathing(spec.patient.breath_rate, "deep")
    deep = Setting(spec.site, breathing="deep")
    peaks = [np.abs(place_loop(spec, turn, moving, deep)).max() for turn in zones.values()]
    usual = _breathed(spec, USUAL, "usual", moving, deep)
    return float(max(*peaks, np.abs(shaped(usual, chest_piece(frequencies(), "bell"))).max()))
