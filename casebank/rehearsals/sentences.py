"""What a rehearsal found, in sentences for its author."""

from __future__ import annotations

from typing import Any

LEAST_SAID = 0.01
REASON_WORDS = {
    "due": "Due: no surcharge",
    "repeat": "Repeated without change",
    "unneeded": "Not needed then",
    "unsafe": "Unsafe: not for this patient then, or hygiene, consent or chaperone missing",
}


def differential_words(found: dict[str, Any]) -> str:
    """Whether the evidence tells the truth apart, with its numbers."""
    true = [f"{row['label']} {_percent(row['careful'])}" for row in found["rows"] if row["is_true"]]
    truth, rival = " and ".join(true), found["rival"]
    start = "With everything the scheme asks for done well, the evidence supports"
    if not rival:
        return f"{start} {truth}. Every diagnosis of this case is true of the patient."
    other = f"{rival} {_percent(found['rival_probability'])}"
    if found["verdict"] == "apart":
        return f"Yes. {start} {truth}; the next is {other}."
    if found["verdict"] == "hardly":
        return (
            f"Hardly. {start} {truth}, and the next, {other}, is more than half as probable. "
            "Give the scheme a step that parts the two, or a finding stronger evidence."
        )
    return (
        f"No. {start} {other} no less than {truth}. "
        "Look at the outcomes and likelihoods of the findings that should decide."
    )


def _percent(share: float) -> str:
    """Whole percent; what would round to all or nothing is said as such."""
    if share < LEAST_SAID:
        return f"under {_with_sign(LEAST_SAID)}"
    if share > 1 - LEAST_SAID:
        return f"over {_with_sign(1 - LEAST_SAID)}"
    return _with_sign(share)


def _with_sign(share: float) -> str:
    return f"{100 * share:.0f}\N{NO-BREAK SPACE}%"


def unreached_words(one: dict[str, Any]) -> str:
    """Why nobody reached the finding, and what would reach it."""
    holds = f" ({'; '.join(one['stages'])})" if one["stages"] else ""
    shows = f" It shows with: {one['shows_with']}." if one["shows_with"] else ""
    if one["why"] == "technique":
        return f"Its step was done, but never so that it shows.{shows}"
    if one["why"] == "stage":
        return f"Nobody asked for anything in the stage it holds in{holds}."
    if one["why"] == "outside-scheme":
        return f"The scheme does not ask for its step; learners come to it by chance only.{shows}"
    return f"Nobody did its step while it holds{holds}.{shows}"
