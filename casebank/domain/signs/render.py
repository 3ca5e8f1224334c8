"""From a specification and a technique to a rendered sign, and to its words.

Owns the one way in: which renderer serves which kind, and what is shown under each sign.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from pydantic import ValidationError

from casebank.domain.signs.beats.table import Beats, beats
from casebank.domain.signs.breath import listen as lungs
from casebank.domain.signs.breathing import Breathing
from casebank.domain.signs.curves import leads
from casebank.domain.signs.curves import pulse as pulses
from casebank.domain.signs.curves import strip as strips
from casebank.domain.signs.curves import venous as veins
from casebank.domain.signs.drawing.neck import neck
from casebank.domain.signs.drawing.paper import one_lead, twelve_leads
from casebank.domain.signs.drawing.traces import traced
from casebank.domain.signs.heart.listen import heart_loop
from casebank.domain.signs.heart.transmission import SITES
from casebank.domain.signs.pictures.draw import check, drawn
from casebank.domain.signs.rendered import Channel, Rendered, no_samples
from casebank.domain.signs.setting import Setting, SignError, Technique, setting
from casebank.domain.signs.signal import LENGTH, RATE, Signal, times
from casebank.domain.signs.spec import (
    ADAPTER,
    ArterialPulse,
    BreathSound,
    HeartSound,
    Patient,
    Rhythm,
    RhythmStrip,
    VenousWave,
)
from casebank.domain.signs.spec_pictures import Picture
from casebank.domain.signs.words.breath import breath_words
from casebank.domain.signs.words.curves import pulse_words, strip_words, venous_words
from casebank.domain.signs.words.heart import heart_words
from casebank.domain.signs.words.pictures import picture_words

AnySpec = HeartSound | BreathSound | ArterialPulse | VenousWave | RhythmStrip | Picture
TITLES = {
    "heart-sound": "What the stethoscope gives over the heart",
    "breath-sound": "What the stethoscope gives over the lungs",
    "arterial-pulse": "The pulse under the finger",
    "venous-wave": "The vein of the neck against a ruler on the sternal angle",
    "rhythm-strip": "Electrocardiogram",
}


def parse(document: Any) -> AnySpec:
    """A specification from plain data; SignError names every wrong field."""
    try:
        return ADAPTER.validate_python(document)
    except ValidationError as failure:
        problems = [
            f"{'.'.join(str(step) for step in error['loc']) or 'the document'}: {error['msg']}"
            for error in failure.errors()
        ]
        raise SignError("; ".join(problems)) from failure


def render(spec: AnySpec, technique: Technique, stretch: int = 1) -> Rendered:
    """The sign under this technique (slot to value); SignError where it cannot be had there.

    ``stretch`` is for sounds, of which only the samples change: everything between short sounds
    lasts that many times longer, and every pitch stays.
    """
    if isinstance(spec, HeartSound):
        return _heart(spec, _heart_setting(technique), stretch)
    if isinstance(spec, BreathSound):
        return _breath(spec, _breath_setting(spec, technique), stretch)
    if isinstance(spec, ArterialPulse):
        return _pulse(spec, setting(technique, spec.artery))
    if isinstance(spec, VenousWave):
        return _venous(spec, setting(technique, "neck"))
    if isinstance(spec, RhythmStrip):
        return _strip(spec, setting(technique, "chest"))
    check(spec)
    return Rendered(spec.kind, no_samples(), 0, svg=drawn(spec, picture_words(spec)), loops=False)


def alternative(spec: AnySpec, technique: Technique) -> str:
    """The sign in words, as hard to read as the sign: what is perceived, never its name."""
    if isinstance(spec, HeartSound):
        return heart_words(spec, _heart_setting(technique))
    if isinstance(spec, BreathSound):
        return breath_words(spec, _breath_setting(spec, technique))
    if isinstance(spec, Picture):
        check(spec)
        return picture_words(spec)
    if isinstance(spec, RhythmStrip):
        return strip_words(spec, _table(spec, setting(technique, "chest")))
    if isinstance(spec, ArterialPulse):
        return pulse_words(spec, pulses.pulse(spec, setting(technique, spec.artery))[1])
    place = setting(technique, "neck")
    table = _table(spec, place)
    return venous_words(spec, table, veins.column(spec, table, place), place)


def seconds_of(spec: AnySpec, technique: Technique) -> float:
    """How long the sign lasts under this technique, without rendering it; a picture as a loop."""
    if isinstance(spec, BreathSound):
        return lungs.seconds_of(spec, _breath_setting(spec, technique))
    return LENGTH


def drawing(spec: AnySpec, technique: Technique) -> str:
    """The sign as SVG: the picture, the paper, the neck, or traces on one time axis.

    Its description is neutral; the words of ``alternative`` are shown where the page wants them.
    """
    shown = render(spec, technique)
    if isinstance(spec, Picture):
        return shown.svg
    title = TITLES[spec.kind]
    if isinstance(spec, VenousWave):
        limits = veins.visible(setting(technique, "neck"))
        return neck(shown.trace[0], shown.trace[1:], limits, (title, "Six seconds."))
    if isinstance(spec, RhythmStrip):
        return _paper(spec, setting(technique, "chest"), title)
    return traced(shown, title)


def _heart_setting(technique: Technique) -> Setting:
    return setting(technique, "apex", SITES)


def _breath_setting(spec: BreathSound, technique: Technique) -> Setting:
    return setting(technique, spec.site, lungs.SITES)


def _sound(kind: str, loop: Signal, trace: tuple[Channel, ...], **more: Any) -> Rendered:
    return Rendered(kind, loop.astype(np.float32), RATE, trace, is_sound=True, **more)


def _heart(spec: HeartSound, place: Setting, stretch: int) -> Rendered:
    loop, _ = heart_loop(spec, place, stretch)
    return _sound(spec.kind, loop, _timing(spec, place))


def _breath(spec: BreathSound, place: Setting, stretch: int) -> Rendered:
    loop, marks, moving = lungs.breath_loop(spec, place, stretch)
    trace = (_lung_volume(moving, len(loop) // stretch),)
    return _sound(spec.kind, loop, trace, marks=marks)


def _pulse(spec: ArterialPulse, place: Setting) -> Rendered:
    curve, table = pulses.pulse(spec, place)
    main = Channel("Pulse", "mmHg, 40 to 180", curve, pulses.RATE, 40, 180)
    trace = (main, _lung_volume(table.breathing))
    return Rendered(spec.kind, curve.astype(np.float32), pulses.RATE, trace)


def _venous(spec: VenousWave, place: Setting) -> Rendered:
    table = _table(spec, place)
    curve = veins.column(spec, table, place)
    main = Channel("Height above the sternal angle", "cm", curve, veins.RATE)
    timing = _timing(spec, place)
    is_pressed = place.effort in veins.PRESSED
    return Rendered(
        spec.kind, curve.astype(np.float32), veins.RATE, (main, *timing), loops=not is_pressed
    )


def _strip(spec: RhythmStrip, place: Setting) -> Rendered:
    table = _table(spec, place)
    names = leads.MEASURED if spec.leads == "twelve" else ("II",)
    curves = {name: strips.measured(spec, table, name) for name in names}
    every = leads.derived(curves) if spec.leads == "twelve" else curves
    trace = tuple(Channel(name, "mV", curve, strips.RATE) for name, curve in every.items())
    return Rendered(spec.kind, curves["II"].astype(np.float32), strips.RATE, trace)


def _paper(spec: RhythmStrip, place: Setting, title: str) -> str:
    table, describes = _table(spec, place), "Squared paper at 25 mm/s and 10 mm/mV, ten seconds."
    if spec.leads == "one":
        return one_lead(strips.measured(spec, table, "II"), strips.RATE, title, describes)
    return twelve_leads(strips.twelve(spec, table), strips.RATE, title, describes)


def _table(spec: VenousWave | RhythmStrip, place: Setting) -> Beats:
    return beats(spec.patient, spec.rhythm, place)


def _timing(spec: HeartSound | VenousWave, place: Setting) -> tuple[Channel, ...]:
    """The carotid pulse, where the technique feels for it; nothing that was not asked for."""
    if not place.is_timed:
        return ()
    curve, _ = pulses.pulse(_plain_pulse(spec.patient, spec.rhythm), place)
    return (Channel("Carotid pulse", "", curve, pulses.RATE),)


def _plain_pulse(patient: Patient, rhythm: Rhythm) -> ArterialPulse:
    """A pulse to time by: its shape says nothing of the valve."""
    return ArterialPulse(patient=patient, rhythm=rhythm)


def _lung_volume(moving: Breathing, count: int = 0) -> Channel:
    seconds = times(count) if count else times()
    return Channel("Lung volume", "", moving.volume(seconds[::40]), RATE / 40, -0.7, 1.1)
