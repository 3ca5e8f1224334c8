"""Whether two findings of one step are seen at once and counted as if they were independent."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from casebank.domain.casefile.checks.steps import MAX_TECHNIQUES
from casebank.domain.casefile.problems import Problem, warning
from casebank.domain.casefile.schema import CaseDocument, Finding
from casebank.domain.casefile.techniques import answer_index, count_techniques, techniques
from casebank.domain.examination.conditions import condition_problems
from casebank.domain.examination.model import Catalogue, Step


def problems(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    """A warning for each pair that one technique reveals and no evidence group joins."""
    for (_, one), (place, two) in combinations(enumerate(document.findings), 2):
        step = catalogue.steps.get(one.step)
        if step and _may_clash(one, two) and _are_seen_at_once(one, two, step, catalogue):
            yield warning(
                f"findings[{place}].evidence.group",
                f"one technique shows this and {one.id!r} together; give both the same group, "
                "or ask for different techniques",
            )


def _may_clash(one: Finding, two: Finding) -> bool:
    if not (one.evidence and two.evidence and one.step == two.step):
        return False
    if one.evidence.group is not None and one.evidence.group == two.evidence.group:
        return False
    return not (one.stages and two.stages) or bool(set(one.stages) & set(two.stages))


def _are_seen_at_once(one: Finding, two: Finding, step: Step, catalogue: Catalogue) -> bool:
    conditions = [answer.when for finding in (one, two) for answer in finding.answers]
    slots = {slot for when in conditions for slot in when}
    if any(_is_wrong(finding) for finding in (one, two)):
        return False
    if any(any(condition_problems(when, step, catalogue)) for when in conditions):
        return False
    if count_techniques(step, slots) > MAX_TECHNIQUES:
        return False
    return any(
        all(_is_clear(finding, made, catalogue) for finding in (one, two))
        for made in techniques(step, slots)
    )


def _is_wrong(finding: Finding) -> bool:
    return bool(finding.answers[-1].when)


def _is_clear(finding: Finding, technique: dict[str, str], catalogue: Catalogue) -> bool:
    answer = finding.answers[answer_index(finding, technique, catalogue)]
    return answer.strength == "clear" and answer.outcome is not None
