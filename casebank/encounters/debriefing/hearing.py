"""What there is to hear or see in a debrief: as the student got it, and as it is found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.debrief.signs import Sign
from casebank.domain.encounter.model import Entry as LogEntry
from casebank.domain.encounter.perceive import Medium
from casebank.domain.visibility import VisibleMedium
from casebank.encounters.deciding import as_decided
from casebank.encounters.media import media_in, media_seen, readings_in
from casebank.encounters.models import Encounter


@dataclass(frozen=True)
class Hearing:
    """The media of one concluded encounter."""

    encounter: Encounter
    case: CompiledCase
    log: Sequence[LogEntry]

    def given(self, seq: int, sign: Sign) -> VisibleMedium | None:
        """What that entry gave to hear or see of the sign, with its reading; or None.

        Where it gave nothing of the sign itself, it is the sound in which the sign was not heard.
        """
        entry = next((one for one in self.log if one.seq == seq), None)
        if entry is None:
            return None
        media = media_in(self.case, entry.payload)
        of_sign = [n for n, one in enumerate(media) if sign.finding in one.findings]
        alike = [n for n, one in enumerate(media) if one.kind == _kind(sign)]
        if not of_sign + alike:
            return None
        seen = media_seen(self.encounter, self.case, entry, readings_in(self.log))
        return seen[(of_sign + alike)[0]]

    def deciding(self, sign: Sign) -> VisibleMedium | None:
        """The sign as the technique that decides shows it; None where it is told in words."""
        return as_decided(self.encounter, self.case, sign)


def _kind(sign: Sign) -> str:
    """Sound, trace or picture; empty where the sign is told in words."""
    return Medium(sign.spec, ()).kind if sign.spec else ""
