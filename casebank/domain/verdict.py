"""A decision with its reason, used alike by the button that is shown and the action that runs."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Verdict:
    """Whether something may be done; ``reason`` is a sentence for the person when it may not."""

    allowed: bool
    reason: str = ""

    def __bool__(self) -> bool:
        return self.allowed


ALLOWED = Verdict(allowed=True)


def refused(reason: str) -> Verdict:
    """A refusal with its reason."""
    return Verdict(allowed=False, reason=reason)
