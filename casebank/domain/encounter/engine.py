"""The encounter itself: opens, answers, concludes, and replays a log into the same state.

Every function takes a state and returns a new one with the payload to be logged; nothing here
keeps anything, so the same log gives the same state for ever.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, replace
from typing import Any

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Stage
from casebank.domain.encounter.charge import charge_for
from casebank.domain.encounter.knowledge import supported_diagnoses
from casebank.domain.encounter.model import Asked, EncounterError, Entry, Request, State
from casebank.domain.encounter.naming import read_finding, reading_of
from casebank.domain.encounter.perceive import media_of
from casebank.domain.encounter.reveal import reveal
from casebank.domain.examination.conditions import meets
from casebank.domain.examination.model import Step, Technique

Payload = dict[str, Any]
SUM_TOLERANCE = 1e-6
LONGEST_TEXT = 4000


def open_state(case: CompiledCase) -> State:
    """The state before anything was asked."""
    return State(stage=case.first_stage)


def answer(case: CompiledCase, state: State, request: Request) -> tuple[Payload, State]:
    """Reveal, charge and move on: the payload to log and the state after it.

    Raises EncounterError for an ended encounter, an unknown step or a technique it cannot have.
    """
    _still_open(state)
    step = _simple_step(case, request.step)
    technique = step.full_technique(_allowed(step, request.technique))
    revealed = reveal(case, step.slug, technique, state.stage)
    charge, flags = charge_for(case, state, step, technique)
    asked = Asked(
        state.last_seq + 1, step.slug, technique, state.stage, state.minute, revealed.seen
    )
    later = replace(
        state,
        minute=round(state.minute + charge.minutes, 6),
        surcharge=round(state.surcharge + charge.surcharge, 6),
        asked=(*state.asked, asked),
        flags=(*state.flags, *flags),
        last_seq=asked.seq,
    )
    later, notice = _move_on(case, later, step.slug, technique)
    payload = {
        "text": request.text,
        "step": step.slug,
        "said": dict(request.technique),
        "technique": technique,
        "stage": state.stage,
        "minute": state.minute,
        "seen": [asdict(seen) for seen in revealed.seen],
        "shown": list(revealed.shown),
        "charge": asdict(charge),
        "flags": list(flags),
        "notice": notice,
    }
    media = media_of(revealed.answers)
    if media:  # a key of its own, so that logs without perceived signs read as they always did
        payload["media"] = [{"kind": one.kind, "findings": list(one.findings)} for one in media]
    return payload, later


def _still_open(state: State) -> None:
    if state.concluded:
        raise EncounterError("This encounter is concluded. Begin a new one to examine again.")


def _simple_step(case: CompiledCase, slug: str) -> Step:
    step = case.catalogue.steps.get(slug)
    if step is None:
        raise EncounterError(f"There is no step {slug!r} in the catalogue.")
    if step.parts:
        raise EncounterError(f"{step.label} is several steps; ask for its parts.")
    return step


def _allowed(step: Step, said: Technique) -> Technique:
    for slot, value in said.items():
        taken = step.slot(slot)
        if taken is None:
            raise EncounterError(f"{step.label} takes no {slot}; leave it out.")
        if value not in taken.values:
            raise EncounterError(
                f"{step.label} has no {slot} {value!r}; choose one of {', '.join(taken.values)}."
            )
    return said


def _move_on(
    case: CompiledCase, state: State, step: str, technique: Technique
) -> tuple[State, str]:
    """Let an action or the passing minutes move the patient to another stage, at most once each."""
    target = _moved_by_action(case, case.stages[state.stage], step, technique)
    if target is None:
        target = _moved_by_time(case.stages[state.stage], state)
    if target is None:
        return state, ""
    return replace(state, stage=target, stage_since=state.minute), case.stages[target].notice


def _moved_by_action(
    case: CompiledCase, stage: Stage, step: str, technique: Technique
) -> str | None:
    return next(
        (
            move.to
            for move in stage.moves
            if move.on_step == step and meets(technique, move.when, case.catalogue)
        ),
        None,
    )


def _moved_by_time(stage: Stage, state: State) -> str | None:
    waited = state.minute - state.stage_since
    return next(
        (
            move.to
            for move in stage.moves
            if move.after_minutes is not None and waited >= move.after_minutes
        ),
        None,
    )


def state_differential(
    case: CompiledCase, state: State, probabilities: Mapping[str, float]
) -> tuple[Payload, State]:
    """Log the student's working differential beside what the same evidence supports."""
    _still_open(state)
    stated = _checked(case, probabilities)
    payload = {
        "probabilities": stated,
        "minute": state.minute,
        "supported": _supported_by_name(case, state),
    }
    return payload, replace(state, differential=stated, last_seq=state.last_seq + 1)


def conclude(
    case: CompiledCase, state: State, probabilities: Mapping[str, float], summary: str, plan: str
) -> tuple[Payload, State]:
    """Commit to a final differential, a summary and a plan; nothing can be asked after it."""
    _still_open(state)
    stated = _checked(case, probabilities)
    if not any(stated.values()):
        raise EncounterError("Give at least one diagnosis a probability before concluding.")
    if not summary.strip():
        raise EncounterError("Write a summary of what you found before concluding.")
    if max(len(summary), len(plan)) > LONGEST_TEXT:
        raise EncounterError(f"Keep the summary and the plan under {LONGEST_TEXT} characters each.")
    payload = {
        "probabilities": stated,
        "summary": summary,
        "plan": plan,
        "minute": state.minute,
        "supported": _supported_by_name(case, state),
    }
    return payload, replace(state, differential=stated, concluded=True, last_seq=state.last_seq + 1)


def _supported_by_name(case: CompiledCase, state: State) -> dict[str, float]:
    posterior = supported_diagnoses(case, state)
    return {name: round(float(p), 6) for name, p in zip(case.hypotheses, posterior, strict=True)}


def _checked(case: CompiledCase, probabilities: Mapping[str, float]) -> dict[str, float]:
    for diagnosis, p in probabilities.items():
        if diagnosis not in case.catalogue.diagnoses:
            raise EncounterError(f"There is no diagnosis {diagnosis!r} in the list.")
        if not 0 <= p <= 1:
            raise EncounterError("Each probability must lie between 0 and 100 %.")
    if sum(probabilities.values()) > 1 + SUM_TOLERANCE:
        raise EncounterError("The probabilities add up to more than 100 %. Lower one of them.")
    return {name: round(float(p), 6) for name, p in probabilities.items()}


def replay(case: CompiledCase, entries: Iterable[Entry]) -> tuple[State, tuple[Payload, ...]]:
    """Work the log through again from its requests alone; stored charges are not trusted.

    Returns the state and, entry by entry, the payloads as they come out now.
    """
    state, payloads = open_state(case), []
    for entry in entries:
        payload, state = _again(case, state, entry)
        payloads.append(payload)
    return state, tuple(payloads)


def _again(case: CompiledCase, state: State, entry: Entry) -> tuple[Payload, State]:
    said = entry.payload
    if entry.kind == "request":
        return answer(case, state, Request(said["step"], said["said"], said["text"]))
    if entry.kind == "differential":
        return state_differential(case, state, said["probabilities"])
    if entry.kind == "reading":
        return read_finding(case, state, reading_of(said))
    return conclude(case, state, said["probabilities"], said["summary"], said["plan"])
