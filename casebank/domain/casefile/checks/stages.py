"""Rules of the stages: unique, reachable, and left by moves that can be told apart."""

from __future__ import annotations

from collections.abc import Iterator

from casebank.domain.casefile.checks.steps import never_met, step_problems, when_problems
from casebank.domain.casefile.problems import Problem, error, repeated, unknown
from casebank.domain.casefile.schema import CaseDocument, Move, Stage
from casebank.domain.examination.conditions import Conditions
from casebank.domain.examination.model import Catalogue


def problems(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    """Everything wrong with the stages and their moves."""
    stages = document.stages
    yield from repeated([(f"stages[{i}].id", stage.id) for i, stage in enumerate(stages)], "stage")
    reached = reachable(document)
    for place, stage in enumerate(stages):
        path = f"stages[{place}]"
        if stage.id not in reached:
            yield error(path, f"no move leads from {stages[0].id!r} to this stage; add or remove")
        yield from _timed(path, stage)
        for number, move in enumerate(stage.moves):
            yield from _move(f"{path}.moves[{number}]", move, stage, document, catalogue)
        yield from _same_step_twice(path, stage)


def reachable(document: CaseDocument) -> set[str]:
    """The ids of the stages that some sequence of moves reaches from the first."""
    moves = {stage.id: [move.to for move in stage.moves] for stage in document.stages}
    reached: set[str] = set()
    waiting = [document.stages[0].id]
    while waiting:
        stage = waiting.pop()
        if stage not in reached:
            reached.add(stage)
            waiting += moves.get(stage, [])
    return reached


def _timed(path: str, stage: Stage) -> Iterator[Problem]:
    timed = [number for number, move in enumerate(stage.moves) if move.after_minutes is not None]
    for number in timed[1:]:
        yield error(
            f"{path}.moves[{number}].after_minutes",
            f"moves[{timed[0]}] is timed already and only the earlier could happen; keep one",
        )


def _move(
    path: str, move: Move, stage: Stage, document: CaseDocument, catalogue: Catalogue
) -> Iterator[Problem]:
    known = [other.id for other in document.stages]
    if move.to not in known:
        yield unknown(f"{path}.to", "stage", move.to, known)
    if move.to == stage.id:
        yield error(f"{path}.to", "leads back to its own stage; name another stage")
    yield from _trigger(path, move)
    if move.on_step is not None:
        yield from _act(path, move.on_step, move.when, catalogue)


def _act(path: str, slug: str, when: Conditions, catalogue: Catalogue) -> Iterator[Problem]:
    found = [
        *step_problems(f"{path}.on_step", slug, catalogue),
        *when_problems(f"{path}.when", slug, when, catalogue),
    ]
    yield from found
    if not found:
        yield from never_met(f"{path}.when", catalogue.steps[slug], catalogue, when)


def _trigger(path: str, move: Move) -> Iterator[Problem]:
    if (move.after_minutes is None) == (move.on_step is None):
        yield error(path, "give either after_minutes or on_step; for both write two moves")
    if move.on_step is None and move.when:
        yield error(f"{path}.when", "only a move on a step can ask for a technique; remove it")


def _same_step_twice(path: str, stage: Stage) -> Iterator[Problem]:
    seen: set[str] = set()
    for number, move in enumerate(stage.moves):
        if move.on_step in seen:
            yield error(f"{path}.moves[{number}].on_step", _never(move.on_step))
        if move.on_step is not None and not move.when:
            seen.add(move.on_step)


def _never(step: str | None) -> str:
    return f"an earlier move takes every {step} already; put the move with conditions first"
