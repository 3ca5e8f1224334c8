"""One simulated learner's whole encounter, as the log that a person's would leave.

Pure: nothing is stored, so a rehearsal is nobody's encounter.
"""

from __future__ import annotations

from casebank.domain.casefile.checks.signs import families_of
from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.encounter.engine import answer, conclude, open_state
from casebank.domain.encounter.model import Entry, Reading, State
from casebank.domain.encounter.naming import media_given, read_finding
from casebank.domain.encounter.perceive import Medium
from casebank.domain.examination.readings import SignReader
from casebank.domain.rehearsal.learner import Learner, conclusion_of, plan_of
from casebank.domain.rehearsal.naming import words_for

SUMMARY = "Concluded by a simulated learner."


def walk(case: CompiledCase, learner: Learner, reader: SignReader) -> tuple[Entry, ...]:
    """The learner's requests, readings and conclusion; the same learner walks the same way.

    ``reader`` reads the learner's words for what it hears and sees, as it reads a person's; words
    in doubt are left at that.
    """
    state, entries = open_state(case), []
    for request in plan_of(case, learner):
        payload, state = answer(case, state, request)
        entries.append(Entry(state.last_seq, "request", payload))
        said, state = _name(case, state, learner, reader)
        entries += said
    stated = conclusion_of(case, learner, state)
    payload, state = conclude(case, state, stated, SUMMARY, "")
    return (*entries, Entry(state.last_seq, "conclusion", payload))


def _name(
    case: CompiledCase, state: State, learner: Learner, reader: SignReader
) -> tuple[list[Entry], State]:
    asked, entries = state.asked[-1], []
    for index, medium in enumerate(media_given(case, asked)):
        words = words_for(case.catalogue.vocabulary, learner, medium, asked.seq)
        reading = _reading(words, reader, medium, asked.seq, index) if words else None
        if reading is not None:
            payload, state = read_finding(case, state, reading)
            entries.append(Entry(state.last_seq, "reading", payload))
    return entries, state


def _reading(
    words: str, reader: SignReader, medium: Medium, entry: int, index: int
) -> Reading | None:
    found = reader.read(words, families_of(medium.spec))
    if found.choices or not found.stated:
        return None
    stated = tuple({f: tuple(v) for f, v in one.features.items()} for one in found.stated)
    return Reading(entry, index, words, stated, found.unused)
