"""Essential steps that were never done: when each was first due, and what it would have told."""

from __future__ import annotations

from dataclasses import dataclass

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Wanted
from casebank.domain.debrief.signs import Sign, deciding_sign
from casebank.domain.debrief.walk import state_before
from casebank.domain.debrief.wording import technique_meeting
from casebank.domain.encounter.knowledge import information_of
from casebank.domain.encounter.model import State
from casebank.domain.encounter.reveal import findings_at, reveal
from casebank.domain.examination.conditions import meets
from casebank.domain.marking.doing import lines_meeting
from casebank.domain.marking.model import Record


@dataclass(frozen=True)
class Due:
    """The moment a step was first due: the state then, and the log position it followed."""

    state: State
    after_seq: int


@dataclass(frozen=True)
class MissedStep:
    """An essential step not done as the scheme wants it.

    ``bits`` is its expected information when first due, by the technique that tells most then;
    None with ``minute`` None where its stage never came.
    """

    item: Wanted
    minute: float | None
    after_seq: int
    bits: float | None
    signs: tuple[Sign, ...]


def missed_steps(case: CompiledCase, record: Record) -> tuple[MissedStep, ...]:
    """The essential items nothing counts as, the heaviest first."""
    never = [
        item for item in case.document.scheme.essential if not lines_meeting(case, record, item)
    ]
    never.sort(key=lambda item: -item.weight)
    return tuple(_missed(case, record, item) for item in never)


def _missed(case: CompiledCase, record: Record, item: Wanted) -> MissedStep:
    due = first_due(case, record, item)
    if due is None:
        return MissedStep(item, None, 0, None, ())
    signs = _signs(case, due.state, item)
    bits = _bits(case, due.state, item, signs)
    return MissedStep(item, due.state.minute, due.after_seq, bits, signs)


def _signs(case: CompiledCase, state: State, item: Wanted) -> tuple[Sign, ...]:
    """The signs by techniques that count as doing this item, else what its technique shows."""
    found = (deciding_sign(case, one) for one in findings_at(case, item.step, state.stage))
    signs = tuple(
        sign for sign in found if sign and meets(sign.technique, item.when, case.catalogue)
    )
    return signs or (_plain(case, state, item),)


def _plain(case: CompiledCase, state: State, item: Wanted) -> Sign:
    technique = _wanted_technique(case, item)
    shown = reveal(case, item.step, technique, state.stage).shown
    return Sign("", "", technique, " ".join(shown), None)


def _wanted_technique(case: CompiledCase, item: Wanted) -> dict[str, str]:
    step = case.catalogue.steps[item.step]
    way = technique_meeting(step, {**item.when, **item.well}, case.catalogue)
    return way if way is not None else step.full_technique({})


def first_due(case: CompiledCase, record: Record, item: Wanted) -> Due | None:
    """The first moment in one of its stages at which all that belongs before it was done.

    Only steps that were done at some time are waited for. None where its stages never came.
    """
    ready_at = max((seq for seq in _predecessors(case, record, item)), default=0)
    asked = record.state.asked
    for place in range(len(asked) + 1):
        state = state_before(record, place)
        after = asked[place - 1].seq if place else 0
        if after >= ready_at and (not item.stages or state.stage in item.stages):
            return Due(state, after)
    return None


def _predecessors(case: CompiledCase, record: Record, item: Wanted) -> tuple[int, ...]:
    scheme = case.document.scheme
    items = {one.id: one for one in (*scheme.essential, *scheme.routine)}
    done = (
        lines_meeting(case, record, items[pair.before])
        for pair in scheme.order
        if pair.after == item.id
    )
    return tuple(lines[0].seq for lines in done if lines)


def _bits(case: CompiledCase, state: State, item: Wanted, signs: tuple[Sign, ...]) -> float:
    """The most that any technique which counts would have told."""
    ways = [*(sign.technique for sign in signs), _wanted_technique(case, item)]
    return max(information_of(case, state, item.step, way) for way in ways)
