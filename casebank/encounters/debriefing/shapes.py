"""The parts of a debrief as shown: words and numbers ready for a page, no rules.

``entries`` and ``seq`` are log positions; ``anchor`` is the part's own place in the page.
"""

from __future__ import annotations

from dataclasses import dataclass

from casebank.domain.debrief.signs import ONLY_PERCEIVED
from casebank.domain.visibility import VisibleMedium
from casebank.encounters.debriefing.beliefs import StepsOfBelief
from casebank.encounters.models import DebriefComment, MarkAdjustment
from casebank.encounters.sheet import FindingOnSheet, perceptible


@dataclass(frozen=True)
class PointShown:
    """One point of a mark with the entries behind it."""

    words: str
    earned: float
    possible: float
    entries: tuple[int, ...]
    anchor: str = ""

    @property
    def kind(self) -> str:
        """``good`` where everything was earned, ``care`` in part, ``bad`` where nothing was."""
        if self.possible and self.earned >= self.possible:
            return "good"
        return "care" if self.earned > 0 else "bad"


@dataclass(frozen=True)
class DomainShown:
    """A domain of the mark, 0-100 or None where it could not be marked."""

    slug: str
    words: str
    score: float | None
    weight: float
    points: tuple[PointShown, ...]
    note: str


@dataclass(frozen=True)
class Belief:
    """A diagnosis in percent: before anything, as stated, as the evidence seen supports it.

    ``low`` and ``high`` are a 95 % interval around ``supported``; None where it is not known.
    """

    label: str
    stated: float
    supported: float | None
    is_true: bool
    prior: float | None = None
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class SignShown:
    """A sign by its name, with what the technique that decides it must be, and what it shows.

    ``medium`` is what that technique gives to hear or see; None where it is told in words.
    """

    label: str
    technique: tuple[str, ...]
    says: str
    medium: VisibleMedium | None = None

    @property
    def player(self) -> FindingOnSheet | None:
        """What is heard or seen, ready to be played; None where there is nothing."""
        return perceptible(self.medium, "deciding") if self.medium else None

    @property
    def words(self) -> str:
        """What is told in words beside the player."""
        return _beside_player(self.says, self.medium)


@dataclass(frozen=True)
class Missed:
    """An essential step that was not done, when it was first due, and what it would have told."""

    label: str
    why: str
    signs: tuple[str, ...]
    minute: float | None = None
    after_seq: int = 0
    bits: float | None = None
    found: tuple[SignShown, ...] = ()
    anchor: str = ""


@dataclass(frozen=True)
class SideBySide:
    """A sign that a request came near: the technique used beside the one that decides.

    ``used`` and ``sign.technique`` say only in what the two differ. ``given`` is what the request
    gave to hear or see, with its reading; None where it gave words or nothing.
    """

    seq: int
    step: str
    used: tuple[str, ...]
    got: str
    sign: SignShown
    anchor: str
    given: VisibleMedium | None = None

    @property
    def player(self) -> FindingOnSheet | None:
        """What the request gave, ready to be played; None where it gave words or nothing."""
        return perceptible(self.given, "given") if self.given else None

    @property
    def words(self) -> str:
        """What was told in words, beside a player if there is one."""
        return _beside_player(self.got, self.given) or ("" if self.given else "Nothing noticed.")


@dataclass(frozen=True)
class Unneeded:
    """A request with a surcharge: its reason, bits, price, and the arithmetic in words."""

    seq: int
    label: str
    reason: str
    bits: float
    price: float
    surcharge: float
    words: str
    anchor: str


@dataclass(frozen=True)
class SurchargeGroup:
    """Surcharges that have the same reason in the same words."""

    reason: str
    words: str
    items: tuple[Unneeded, ...]

    @property
    def surcharge(self) -> float:
        """What they cost together."""
        return sum(item.surcharge for item in self.items)

    @property
    def price(self) -> float:
        """Their price together."""
        return sum(item.price for item in self.items)


@dataclass(frozen=True)
class PairShown:
    """Two steps whose order matters, where each was first done, and whether it was kept."""

    words: str
    before_label: str
    after_label: str
    before_seq: int
    after_seq: int
    is_kept: bool
    anchor: str


@dataclass(frozen=True)
class EvidenceShown:
    """A finding that bears on the differential, whether it counted, and on what its numbers rest.

    ``is_exact``: it counted with numbers for which the case gives no interval.
    """

    seq: int
    label: str
    outcome: str
    group: str
    is_counted: bool
    factor: float
    instead: str
    source: str
    anchor: str
    assumed: str = ""
    is_exact: bool = False

    @property
    def certainty(self) -> str:
        """Whether its numbers came with an interval; empty where it did not count."""
        if not self.is_counted:
            return ""
        return "taken as exact" if self.is_exact else "interval known"


@dataclass(frozen=True)
class NextShown:
    """A step that would have helped next: bits expected, price, bits a unit of price."""

    label: str
    technique: tuple[str, ...]
    bits: float
    price: float
    per_price: float


@dataclass(frozen=True)
class Debrief:
    """Everything a debrief shows beside the sheet.

    ``without_interval`` names findings whose numbers were taken as exact, ``presentation`` says
    whom the percentages before the examination are of, ``together`` which diagnoses this patient
    might have had at once; their probability is shared between them.
    """

    total: float
    capped_at: float | None
    version: int
    domains: tuple[DomainShown, ...]
    beliefs: tuple[Belief, ...]
    missed: tuple[Missed, ...]
    truth: tuple[str, ...]
    strength: str
    practise: str
    side_by_side: tuple[SideBySide, ...]
    surcharges: tuple[SurchargeGroup, ...]
    pairs: tuple[PairShown, ...]
    evidence: tuple[EvidenceShown, ...]
    next_steps: tuple[NextShown, ...]
    without_interval: tuple[str, ...]
    steps: StepsOfBelief
    comments: tuple[DebriefComment, ...]
    adjustments: tuple[MarkAdjustment, ...]
    presentation: str = ""
    together: tuple[str, ...] = ()

    @property
    def unneeded(self) -> tuple[Unneeded, ...]:
        """Every request with a surcharge, the dearest first."""
        every = (item for group in self.surcharges for item in group.items)
        return tuple(sorted(every, key=lambda item: (-item.surcharge, item.seq)))

    @property
    def adjusted(self) -> MarkAdjustment | None:
        """The adjustment that stands, the newest; None where the computed mark stands alone."""
        return self.adjustments[-1] if self.adjustments else None

    @property
    def has_sounds(self) -> bool:
        """Whether a sound stands among the signs and how they are found."""
        media = [medium for one in self.side_by_side for medium in (one.given, one.sign.medium)]
        return any(medium.kind == "sound" for medium in media if medium)

    @property
    def has_intervals(self) -> bool:
        """Whether the evidence came with intervals of its own."""
        return any(one.low is not None for one in self.beliefs)


def _beside_player(words: str, medium: VisibleMedium | None) -> str:
    """That it is heard or seen need not be said where it can be."""
    return "" if medium and words == ONLY_PERCEIVED else words
