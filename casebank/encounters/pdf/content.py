"""What the document says, as plain JSON values in the order in which it says it."""

from __future__ import annotations

from typing import Any

from casebank.domain.visibility import CAUTION
from casebank.encounters import queries
from casebank.encounters.debriefing.building import debrief_from, replay_of
from casebank.encounters.debriefing.shapes import Debrief, SideBySide, SignShown
from casebank.encounters.models import Encounter
from casebank.encounters.sheet import FindingOnSheet, Row, rows_of

Content = dict[str, Any]


def content_of(encounter: Encounter) -> Content:
    """The content of a concluded encounter's debrief."""
    log = queries.log_of(encounter)
    replay = replay_of(encounter, log)
    debrief = debrief_from(encounter, replay)
    document = replay.case.document
    return {
        "caution": CAUTION,
        "title": f"Debrief: {document.title}",
        "patient": f"{document.patient.name}, {document.patient.age}",
        "student": encounter.student.name,
        "concluded": f"{encounter.concluded_at:%-d %B %Y}" if encounter.concluded_at else "",
        "minutes": f"{encounter.minutes:g}",
        "surcharge": f"{encounter.surcharge:.1f} of {document.scheme.surcharge_budget:g}",
        **_summary(debrief),
        **_reasons(debrief),
        **_beliefs(debrief),
        "teaching": document.teaching.model_dump(mode="json"),
        "cautions": list(document.cautions),
        "sheet": [_row(row) for row in rows_of(queries.as_seen(encounter, log))],
    }


def _summary(debrief: Debrief) -> Content:
    beside = debrief.adjusted
    return {
        "total": f"{debrief.total:.0f}",
        "capped_at": None if debrief.capped_at is None else f"{debrief.capped_at:.0f}",
        "adjusted": None
        if beside is None
        else {"total": f"{beside.total:.0f}", "by": beside.by.name, "reason": beside.reason},
        "truth": list(debrief.truth),
        "strength": debrief.strength,
        "practise": debrief.practise,
        "domains": [
            {
                "words": domain.words,
                "score": "not marked" if domain.score is None else f"{domain.score:.0f}",
                "weight": f"{domain.weight:g}",
            }
            for domain in debrief.domains
        ],
        "named": [
            {"words": point.words, "earned": f"{point.earned:g} of {point.possible:g}",
             "entries": ", ".join(map(str, point.entries))}
            for domain in debrief.domains
            if domain.slug == "interpretation"
            for point in domain.points
        ],
        "comments": [
            {"by": one.by.name, "text": one.text, "entry": one.entry_seq}
            for one in debrief.comments
        ],
    }  # fmt: skip


def _reasons(debrief: Debrief) -> Content:
    return {
        "missed": [
            {
                "label": one.label,
                "why": one.why,
                "bits": None if one.bits is None else f"{one.bits:.2f}",
                "minute": None if one.minute is None else f"{one.minute:g}",
                "found": [
                    {"technique": ", ".join(sign.technique), "says": _told(sign)}
                    for sign in one.found
                    if sign.says
                ],
            }
            for one in debrief.missed
        ],
        "beside": [
            {
                "seq": one.seq,
                "step": one.step,
                "used": ", ".join(one.used),
                "deciding": ", ".join(one.sign.technique),
                "got": _got(one),
                "label": one.sign.label,
                "says": _told(one.sign),
            }
            for one in debrief.side_by_side
        ],
        "unneeded": [
            {"seq": one.seq, "label": one.label, "words": one.words,
             "surcharge": f"{one.surcharge:.2f}"}
            for one in debrief.unneeded
        ],
        "pairs": [
            {"words": one.words, "kept": one.is_kept, "before": one.before_seq,
             "after": one.after_seq}
            for one in debrief.pairs
        ],
        "next": [
            {"label": one.label, "technique": ", ".join(one.technique),
             "bits": f"{one.bits:.2f}", "price": f"{one.price:g}"}
            for one in debrief.next_steps
        ],
    }  # fmt: skip


def _beliefs(debrief: Debrief) -> Content:
    return {
        "beliefs": [
            {
                "label": one.label,
                "is_true": one.is_true,
                "prior": _percent(one.prior),
                "stated": f"{one.stated:.0f}",
                "supported": _percent(one.supported),
                "interval": "not known"
                if one.low is None or one.high is None
                else f"{one.low:.0f} to {one.high:.0f}",
            }
            for one in debrief.beliefs
        ],
        "evidence": [
            {"seq": one.seq, "label": one.label, "outcome": one.outcome,
             "counted": one.is_counted, "factor": f"{one.factor:.1f}", "instead": one.instead,
             "source": one.source, "assumed": one.assumed}
            for one in debrief.evidence
        ],
        "steps": _steps(debrief),
        "has_intervals": debrief.has_intervals,
        "exact": list(debrief.without_interval),
        "presentation": debrief.presentation,
        "together": list(debrief.together),
    }  # fmt: skip


def _got(one: SideBySide) -> str:
    """What the technique gave, in words: paper plays no sound."""
    if one.given is None:
        return one.words
    return " ".join(part for part in (one.words, one.given.alternative) if part)


def _told(sign: SignShown) -> str:
    """What the sign is like, in words."""
    if sign.medium is None:
        return sign.says
    return " ".join(part for part in (sign.words, sign.medium.alternative) if part)


def _steps(debrief: Debrief) -> Content:
    steps = debrief.steps
    return {
        "diagnoses": list(steps.diagnoses),
        "still": steps.still,
        "rows": [
            {
                "seq": "" if row.seq == 0 else str(row.seq),
                "label": row.label,
                "cells": [
                    f"{supported:.0f}" if stated is None else f"{stated:.0f} ({supported:.0f})"
                    for stated, supported in row.cells
                ],
                "others": f", any other {row.others:.0f}" if row.others else "",
            }
            for row in steps.rows
        ],
    }


def _percent(value: float | None) -> str:
    return "not considered" if value is None else f"{value:.0f}"


def _row(row: Row) -> Content:
    technique = ", ".join(value for _, value in row.technique)
    found = [text for finding in row.findings for text in _found(finding)]
    said = [f"{label} {percent} %" for label, percent in row.probabilities]
    charge = row.charge
    return {
        "seq": row.seq,
        "minute": f"{row.minute:g}",
        "step": row.step_label,
        "technique": technique,
        "found": [*found, *said, *row.flags, *([row.notice] if row.notice else [])],
        "cost": ""
        if charge is None
        else f"{charge.minutes:g} min" + (f" + {charge.surcharge:.1f}" if charge.surcharge else ""),
    }


def _found(finding: FindingOnSheet) -> list[str]:
    """What was found in words; of what was heard or seen, what it was like and its name."""
    if not finding.picture_url:
        return [finding.text] if finding.text else []
    kind = "Heard" if finding.sound_url else "Seen"
    named = f"Named: “{finding.reading}”." if finding.reading else "Not named."
    return [f"{kind}: {finding.alternative} {named}" if finding.alternative else f"{kind}. {named}"]
