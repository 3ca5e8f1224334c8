"""A state as plain JSON and back, for the cached live state of an encounter."""

from __future__ import annotations

from typing import Any

from casebank.domain.encounter.model import Asked, Seen, State


def state_to_json(state: State) -> dict[str, Any]:
    """The state as JSON values; short rows, because it is written with every request."""
    return {
        "stage": state.stage,
        "since": state.stage_since,
        "minute": state.minute,
        "surcharge": state.surcharge,
        "asked": [
            [a.seq, a.step, dict(a.technique), a.stage, a.minute,
             [[s.finding, s.outcome, s.strength] for s in a.seen]]
            for a in state.asked
        ],
        "differential": dict(state.differential),
        "flags": list(state.flags),
        "concluded": state.concluded,
        "seq": state.last_seq,
    }  # fmt: skip


def state_from_json(data: dict[str, Any]) -> State:
    """The state that ``state_to_json`` wrote."""
    return State(
        stage=data["stage"],
        stage_since=data["since"],
        minute=data["minute"],
        surcharge=data["surcharge"],
        asked=tuple(
            Asked(seq, step, technique, stage, minute, tuple(Seen(*s) for s in seen))
            for seq, step, technique, stage, minute, seen in data["asked"]
        ),
        differential=data["differential"],
        flags=tuple(data["flags"]),
        concluded=data["concluded"],
        last_seq=data["seq"],
    )
