"""Rules of a finding's answers: valid conditions, a last resort, none out of reach, words said."""

from __future__ import annotations

from collections.abc import Iterator

from casebank.domain.casefile.checks.steps import MAX_TECHNIQUES, when_problems
from casebank.domain.casefile.problems import Problem, error
from casebank.domain.casefile.schema import CaseDocument, Finding
from casebank.domain.casefile.techniques import answer_index, count_techniques, techniques
from casebank.domain.examination.model import Catalogue, Step


def problems(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    """Everything wrong with the answers of every finding."""
    for place, finding in enumerate(document.findings):
        path = f"findings[{place}].answers"
        yield from _last(path, finding)
        yield from _words(path, finding)
        wrong = [
            problem
            for number, answer in enumerate(finding.answers)
            for problem in when_problems(
                f"{path}[{number}].when", finding.step, answer.when, catalogue
            )
        ]
        yield from wrong
        step = catalogue.steps.get(finding.step)
        if step is not None and not wrong and not finding.answers[-1].when:
            yield from _out_of_reach(path, finding, step, catalogue)


def _last(path: str, finding: Finding) -> Iterator[Problem]:
    last = len(finding.answers) - 1
    if finding.answers[last].when:
        yield error(
            f"{path}[{last}].when", "the last answer must have no conditions; add one that has none"
        )


def _words(path: str, finding: Finding) -> Iterator[Problem]:
    for number, answer in enumerate(finding.answers):
        is_perceived = answer.sign is not None or answer.says.strip()
        if answer.strength != "absent" and not is_perceived:
            yield error(f"{path}[{number}].says", "write what is perceived, or make it absent")


def _out_of_reach(
    path: str, finding: Finding, step: Step, catalogue: Catalogue
) -> Iterator[Problem]:
    slots = {slot for answer in finding.answers for slot in answer.when}
    count = count_techniques(step, slots)
    if count > MAX_TECHNIQUES:
        yield error(path, f"mention too many slots: {count:,} techniques; name fewer slots")
        return
    reached = {answer_index(finding, made, catalogue) for made in techniques(step, slots)}
    for number in range(len(finding.answers)):
        if number not in reached:
            yield error(
                f"{path}[{number}].when",
                "no technique gets here because earlier answers take all; reorder or remove",
            )
