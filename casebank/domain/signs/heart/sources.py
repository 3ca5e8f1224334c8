"""The components of one patient's heart as loops, each at its best place.

Owns building; where the stethoscope is, is ``listen``'s. Each component draws from a stream of its
own, so that two places sound like one patient.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from casebank.domain.signs.beats.table import Beats, beats
from casebank.domain.signs.chestpiece import chest_piece, chest_wall
from casebank.domain.signs.heart.added import extra_source
from casebank.domain.signs.heart.envelopes import Frame, envelope
from casebank.domain.signs.heart.grading import lesion_gain
from casebank.domain.signs.heart.manoeuvres import click_place
from casebank.domain.signs.heart.murmurs import band, shape_of
from casebank.domain.signs.heart.transients import transient
from casebank.domain.signs.heart.transmission import site_db
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.signal import (
    COUNT,
    Signal,
    add_at,
    amplitude,
    coloured_noise,
    frequencies,
    gain,
    shaped,
    stream,
    stretched,
)
from casebank.domain.signs.spec import HeartSound, Lesion

LONGER = {"mild": 0.0, "moderate": 0.012, "severe": 0.028}


@dataclass(frozen=True)
class Source:
    """A component's loop at its best place; ``unmoved`` technique does not change it."""

    name: str
    loop: Signal
    unmoved: tuple[str, ...] = ()


def beats_of(spec: HeartSound, setting: Setting) -> Beats:
    """The table of beats of this heart under this technique."""
    stenoses = [lesion for lesion in spec.lesions if lesion.type == "aortic-stenosis"]
    longer = max((LONGER[lesion.severity] for lesion in stenoses), default=0.0)
    return beats(spec.patient, spec.rhythm, setting, spec.split, longer=longer)


def clicks(spec: HeartSound, table: Beats, setting: Setting) -> Signal:
    """Times of the mid-systolic click."""
    place = click_place(setting, spec.lesions)
    return np.asarray(table.m1 + place * (table.a2 - table.m1))


def sources(
    spec: HeartSound, table: Beats, setting: Setting, stretch: int = 1
) -> tuple[Source, ...]:
    """Every component this heart makes; ``stretch`` draws out the time between, no sound itself."""
    click = clicks(spec, table, setting)
    return (
        *_valve_sounds(spec, table, stretch),
        *(
            Source(item.type, extra_source(item, spec, table, click, stretch))
            for item in spec.extras
        ),
        *(
            _murmur(lesion, index, spec, envelope(Frame(table, lesion, click)), stretch)
            for index, lesion in enumerate(spec.lesions)
        ),
    )


def _valve_sounds(spec: HeartSound, table: Beats, stretch: int) -> Iterator[Source]:
    valves = {item.type for item in spec.extras}
    first = spec.first_db + table.s1_db
    mitral = -14.0 if "prosthetic-mitral" in valves else 0.0
    aortic = -14.0 if "prosthetic-aortic" in valves else 0.0
    fused = -2.0 if spec.split == "single" else 0.0
    yield _rung("m1", table.m1, first + mitral, spec, stretch)
    yield _rung("t1", table.t1, first, spec, stretch)
    none = np.zeros_like(table.a2)
    yield _rung("a2", table.a2, spec.aortic_db + aortic + none, spec, stretch)
    yield _rung("p2", table.p2, spec.pulmonary_db + fused + none, spec, stretch)


def _rung(name: str, at: Signal, db: Signal, spec: HeartSound, stretch: int) -> Source:
    """One sound at each beat, varied by 0.4 dB from beat to beat."""
    loop = np.zeros(COUNT * stretch)
    piece = transient(name, spec.patient.seed)
    jitter = stream(spec.patient.seed, f"beats:{name}").uniform(-0.4, 0.4, len(at))
    for start, size in zip(at, amplitude(db + jitter), strict=True):
        add_at(loop, float(start) * stretch, piece * size)
    return Source(name, loop)


def _murmur(lesion: Lesion, index: int, spec: HeartSound, course: Signal, stretch: int) -> Source:
    """Noise in the murmur's band, duller while it is soft, times its envelope."""
    shape = stretched(course, stretch)
    seed, count = spec.patient.seed, len(shape)
    hz = frequencies(count)
    name = f"murmur:{index}:{lesion.type}"
    high = coloured_noise(stream(seed, name), band(hz, lesion), count)
    low = coloured_noise(stream(seed, f"{name}:low"), band(hz, lesion, is_low=True), count)
    bright = np.clip(shape, 0, 1) if shape_of(lesion) != "rumble" else np.ones_like(shape)
    mixed = high * np.sqrt(bright) + low * np.sqrt(1 - bright)
    return Source(lesion.type, mixed * shape * lesion_gain(lesion, seed), lesion.unmoved)


def ordinary_peak(seed: int) -> float:
    """Peak of an ordinary first sound at the apex, through the bell and an average chest."""
    loop = np.zeros(COUNT)
    add_at(loop, 0.1, transient("m1", seed))
    add_at(loop, 0.125, transient("t1", seed) * gain(site_db("t1", "apex")))
    hz = frequencies()
    return float(np.abs(shaped(loop, chest_wall(hz, "average") * chest_piece(hz, "bell"))).max())
