"""A debrief as the API gives it; the fields of the first release stay as they were."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from casebank.domain.visibility import VisibleMedium
from casebank.encounters.debriefing.building import debrief_from, replay_of
from casebank.encounters.debriefing.shapes import Debrief, Missed, SideBySide, SignShown
from casebank.encounters.media import medium_data
from casebank.encounters.models import DebriefComment, Encounter, MarkAdjustment
from casebank.encounters.queries import log_of

Data = dict[str, Any]


def debrief_data(encounter: Encounter) -> Data:
    """Everything but the sheet and the caution."""
    replay = replay_of(encounter, log_of(encounter))
    shown = debrief_from(encounter, replay)
    return {
        "total": shown.total,
        "capped_at": shown.capped_at,
        "marking_version": shown.version,
        "truth": list(shown.truth),
        "domains": [asdict(domain) for domain in shown.domains],
        "differential": [asdict(belief) for belief in shown.beliefs],
        "missed": [_missed(one) for one in shown.missed],
        "teaching": replay.case.document.teaching.model_dump(),
        **_explained(shown),
        "trajectory": [asdict(one) for one in replay.run.supported],
        "hypotheses": list(replay.run.hypotheses),
    }


def _explained(shown: Debrief) -> Data:
    return {
        "strength": shown.strength,
        "practise": shown.practise,
        "technique": [_beside(one) for one in shown.side_by_side],
        "surcharges": [asdict(one) for one in shown.unneeded],
        "order": [asdict(one) for one in shown.pairs],
        "evidence": [asdict(one) for one in shown.evidence],
        "next_steps": [asdict(one) for one in shown.next_steps],
        "without_interval": list(shown.without_interval),
        "presentation": shown.presentation,
        "together": list(shown.together),
        "steps": asdict(shown.steps),
        "comments": [comment_data(one) for one in shown.comments],
        "adjustments": [adjustment_data(one) for one in shown.adjustments],
    }


def _missed(one: Missed) -> Data:
    return asdict(one) | {"found": [_sign(sign) for sign in one.found]}


def _beside(one: SideBySide) -> Data:
    """``given`` is what the request gave to hear or see; ``sign.medium`` what it should have."""
    return asdict(one) | {"given": _medium(one.given), "sign": _sign(one.sign)}


def _sign(sign: SignShown) -> Data:
    return asdict(sign) | {"medium": _medium(sign.medium)}


def _medium(medium: VisibleMedium | None) -> Data | None:
    return medium_data(medium) if medium else None


def comment_data(one: DebriefComment) -> Data:
    """A comment with who made it and when."""
    return {
        "id": one.pk,
        "entry": one.entry_seq,
        "text": one.text,
        "by": one.by.name,
        "at": one.at.isoformat(),
    }


def adjustment_data(one: MarkAdjustment) -> Data:
    """An adjustment with the computed total it stands beside."""
    return {
        "id": one.pk,
        "total": one.total,
        "reason": one.reason,
        "by": one.by.name,
        "at": one.at.isoformat(),
    }
