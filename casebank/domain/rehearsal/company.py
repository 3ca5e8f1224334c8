"""The simulated learners of a rehearsal: three kinds, so many of each, and one careful examiner.

The abilities and their number are our own choice, no source; they claim nothing about real
students.
"""

from __future__ import annotations

from dataclasses import dataclass

from casebank.domain.rehearsal.learner import Learner


@dataclass(frozen=True)
class LearnerKind:
    """A kind of learner: its name, ``ability`` in logits, and what it is like in plain words."""

    slug: str
    label: str
    ability: float
    words: str


KINDS = (
    LearnerKind("less-able", "Less able", -1.0, "does about half of what the scheme asks"),
    LearnerKind("middling", "Middling", 0.4, "does most of it, not always well"),
    LearnerKind("more-able", "More able", 1.8, "does nearly all of it, mostly well"),
)
EACH = 40
SEED = 1000
CAREFUL = Learner(ability=40.0, seed=0)
"""So able that chance plays no part: everything the scheme asks, well, in its usual order."""


def company() -> tuple[tuple[LearnerKind, Learner], ...]:
    """Every learner of a rehearsal with its kind; always the same ones."""
    return tuple(
        (kind, Learner(kind.ability, SEED * (place + 1) + number))
        for place, kind in enumerate(KINDS)
        for number in range(EACH)
    )
