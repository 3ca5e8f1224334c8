"""The shape of belief against evidence, step by step; no rules."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class StepOfBelief:
    """What the evidence supported at one entry, beside what was stated there, in per cent.

    ``supported`` is in the order of the table's diagnoses; ``stated`` is empty where nothing was
    stated, and then ``others`` is None; ``others`` is what went to diagnoses outside the table.
    """

    seq: int
    minute: float
    label: str
    supported: tuple[float, ...]
    stated: tuple[float, ...] = ()
    others: float | None = None

    @property
    def cells(self) -> tuple[tuple[float | None, float], ...]:
        """(stated or None, supported) for each diagnosis."""
        said = self.stated or (None,) * len(self.supported)
        return tuple(zip(said, self.supported, strict=True))


@dataclass(frozen=True)
class StepsOfBelief:
    """Belief against evidence step by step; ``still`` requests moved nothing and are left out."""

    diagnoses: tuple[str, ...]
    rows: tuple[StepOfBelief, ...]
    still: int

    @property
    def has_others(self) -> bool:
        """Whether any differential named a diagnosis outside the table."""
        return any(row.others for row in self.rows)
