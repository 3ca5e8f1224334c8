"""Simulated learners: seeded walks through a case, for rehearsals and invented cohorts."""

from casebank.domain.rehearsal.learner import Learner, conclusion_of, plan_of
from casebank.domain.rehearsal.naming import words_for

__all__ = ["Learner", "conclusion_of", "plan_of", "words_for"]
