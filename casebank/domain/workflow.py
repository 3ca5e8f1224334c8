"""The life of a case version: states, legal moves, who owns each, and what the log calls it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class CaseState(StrEnum):
    """Where a case version stands."""

    DRAFT = "draft"
    SUBMITTED = "submitted"
    RETURNED = "returned"
    APPROVED = "approved"
    PUBLISHED = "published"
    RETIRED = "retired"


class Actor(StrEnum):
    """In which capacity a person makes a move."""

    AUTHOR = "author"
    REVIEWER = "reviewer"


@dataclass(frozen=True)
class Move:
    """A legal move: its name, from where to where, by whom, and the event it leaves."""

    name: str
    source: CaseState
    target: CaseState
    actor: Actor
    event: str
    words: str


S, A = CaseState, Actor
MOVES = (
    Move("submit", S.DRAFT, S.SUBMITTED, A.AUTHOR, "case_submitted", "Submit for review"),
    Move("withdraw", S.SUBMITTED, S.DRAFT, A.AUTHOR, "case_withdrawn", "Withdraw to draft"),
    Move("return", S.SUBMITTED, S.RETURNED, A.REVIEWER, "case_returned", "Return with comments"),
    Move("approve", S.SUBMITTED, S.APPROVED, A.REVIEWER, "case_approved", "Approve"),
    Move("revise", S.RETURNED, S.DRAFT, A.AUTHOR, "case_reopened", "Take up the draft again"),
    Move("publish", S.APPROVED, S.PUBLISHED, A.AUTHOR, "case_published", "Publish"),
    Move("retire", S.PUBLISHED, S.RETIRED, A.REVIEWER, "case_retired", "Retire"),
    Move("retire-own", S.PUBLISHED, S.RETIRED, A.AUTHOR, "case_retired", "Retire"),
)
EDITABLE = frozenset({S.DRAFT})
FIXED = frozenset({S.APPROVED, S.PUBLISHED, S.RETIRED})


def moves_from(state: CaseState, actor: Actor) -> tuple[Move, ...]:
    """The moves open to this actor from this state."""
    return tuple(move for move in MOVES if move.source == state and move.actor == actor)


def find_move(name: str, state: CaseState, actor: Actor) -> Move | None:
    """The legal move of that name, or None."""
    return next((move for move in moves_from(state, actor) if move.name == name), None)


def legal_pairs() -> frozenset[tuple[str, str]]:
    """All (from, to) pairs; the database trigger enforces the same set."""
    return frozenset((move.source.value, move.target.value) for move in MOVES)
