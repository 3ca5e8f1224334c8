"""Simulated learners: seeded walks through a case, for rehearsals and invented cohorts."""

from casebank.domain.rehearsal.company import CAREFUL, EACH, KINDS, LearnerKind, company
from casebank.domain.rehearsal.learner import Learner, conclusion_of, plan_of
from casebank.domain.rehearsal.naming import words_for
from casebank.domain.rehearsal.outcome import Outcome, outcome_of
from casebank.domain.rehearsal.report import RehearsalReport, report_of
from casebank.domain.rehearsal.walk import walk

__all__ = [
    "CAREFUL",
    "EACH",
    "KINDS",
    "Learner",
    "LearnerKind",
    "Outcome",
    "RehearsalReport",
    "company",
    "conclusion_of",
    "outcome_of",
    "plan_of",
    "report_of",
    "walk",
    "words_for",
]
