"""What a student may see of a log entry: a whitelist, before and after the conclusion.

Finding names, outcomes, stages and supported probabilities stay hidden until the conclusion; of a
perceived sign also its parameters: there is only an address, and the sign in words that do not
name it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from casebank.domain.examination.model import Catalogue, Step
from casebank.domain.examination.statements import Stated, told

CAUTION = (
    "For teaching. Fictional patients. Not for the care of any person; follow local guidance and "
    "the supervision of a licensed clinician."
)


@dataclass(frozen=True)
class Chip:
    """One slot of the technique, read back; ``said`` is False for a default."""

    slot: str
    value: str
    label: str
    said: bool


@dataclass(frozen=True)
class VisibleCharge:
    """The charge as the student sees it; ``information`` in bits, only where it set the price."""

    minutes: float
    surcharge: float
    reason: str
    words: str
    information: float | None


@dataclass(frozen=True)
class VisibleMedium:
    """Something to hear or see: ``kind`` is sound, trace or picture.

    ``address`` lacks its ending (.flac, .wav, .svg), and so do those of ``renditions``: a sound's
    other forms by name (raised, slow, raised-slow), as .flac and .wav. ``alternative`` is the same
    in words, ``text`` the student's own reading, ``understood`` and ``unused`` what became of it.
    Nothing here says what it is, nor whether the reading is right.
    """

    index: int
    kind: str
    address: str = ""
    renditions: Mapping[str, str] = field(default_factory=dict)
    alternative: str = ""
    text: str = ""
    understood: tuple[str, ...] = ()
    unused: tuple[str, ...] = ()
    reading_address: str = ""


@dataclass(frozen=True)
class VisibleRequest:
    """A request with what it showed."""

    seq: int
    minute: float
    text: str
    step: str
    label: str
    chips: tuple[Chip, ...]
    shown: tuple[str, ...]
    notice: str
    charge: VisibleCharge
    flags: tuple[str, ...]
    kind: str = "request"
    media: tuple[VisibleMedium, ...] = ()

    @property
    def ends(self) -> float:
        """The minute at which it was done."""
        return self.minute + self.charge.minutes


@dataclass(frozen=True)
class VisibleStatement:
    """A differential or the conclusion, as stated."""

    seq: int
    minute: float
    probabilities: tuple[tuple[str, float], ...]
    summary: str
    plan: str
    kind: str


@dataclass(frozen=True)
class VisibleReading:
    """What the student said a perceived sign is: of which entry, which of its media, in words."""

    seq: int
    minute: float
    entry: int
    medium: int
    text: str
    understood: tuple[str, ...]
    unused: tuple[str, ...]
    kind: str = "reading"


VisibleEntry = VisibleRequest | VisibleStatement | VisibleReading


def visible_entry(
    seq: int,
    kind: str,
    payload: Mapping[str, Any],
    catalogue: Catalogue,
    media: Sequence[VisibleMedium] = (),
) -> VisibleEntry:
    """The part of a stored entry that its student may see while examining.

    ``media`` are a request's sounds and pictures where the caller has addresses and words for
    them; else they are given by index and kind alone.
    """
    if kind == "request":
        given = tuple(media) or tuple(
            VisibleMedium(index, one["kind"]) for index, one in enumerate(payload.get("media", ()))
        )
        return replace(_request(seq, payload, catalogue), media=given)
    if kind == "reading":
        return _reading(seq, payload, catalogue)
    named = (
        (catalogue.diagnoses[slug].label, p)
        for slug, p in sorted(payload["probabilities"].items(), key=lambda item: -item[1])
    )
    return VisibleStatement(
        seq=seq,
        minute=payload["minute"],
        probabilities=tuple(named),
        summary=payload.get("summary", ""),
        plan=payload.get("plan", ""),
        kind=kind,
    )


def _reading(seq: int, payload: Mapping[str, Any], catalogue: Catalogue) -> VisibleReading:
    return VisibleReading(
        seq=seq,
        minute=payload["minute"],
        entry=payload["entry"],
        medium=payload["medium"],
        text=payload["text"],
        understood=understood(payload, catalogue),
        unused=tuple(payload["unused"]),
    )


def understood(payload: Mapping[str, Any], catalogue: Catalogue) -> tuple[str, ...]:
    """A logged reading as it was understood, a line for each sign named."""
    return tuple(told(Stated(one), catalogue.vocabulary) for one in payload["stated"])


def _request(seq: int, payload: Mapping[str, Any], catalogue: Catalogue) -> VisibleRequest:
    step = catalogue.steps[payload["step"]]
    charge = payload["charge"]
    return VisibleRequest(
        seq=seq,
        minute=payload["minute"],
        text=payload["text"],
        step=step.slug,
        label=step.label,
        chips=chips_of(step, payload["technique"], payload["said"], catalogue),
        shown=tuple(payload["shown"]),
        notice=payload["notice"],
        charge=VisibleCharge(
            minutes=charge["minutes"],
            surcharge=charge["surcharge"],
            reason=charge["reason"],
            words=charge["words"],
            information=charge["information"] if charge["reason"] == "unneeded" else None,
        ),
        flags=tuple(payload["flags"]),
    )


def chips_of(
    step: Step, technique: Mapping[str, str], said: Mapping[str, str], catalogue: Catalogue
) -> tuple[Chip, ...]:
    """The technique read back, what was said first."""
    chips = [
        Chip(slot, value, catalogue.value(slot, value).label, slot in said)
        for slot, value in technique.items()
        if step.slot(slot) is not None
    ]
    return tuple(sorted(chips, key=lambda chip: not chip.said))
