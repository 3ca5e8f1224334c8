"""Simulated learners: seeded walks through a case, for rehearsals and invented cohorts."""

from casebank.domain.rehearsal.learner import Learner, conclusion_of, plan_of

__all__ = ["Learner", "conclusion_of", "plan_of"]
