"""The permissions and the roles that hold them, as data with prose."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Permission(StrEnum):
    """One thing a person may be allowed to do; what object it holds for is a policy's."""

    WRITE_CASES = "write-cases"
    REVIEW_CASES = "review-cases"
    PRACTISE = "practise"
    SIT_ROUNDS = "sit-rounds"
    HOLD_ROUNDS = "hold-rounds"
    REPORT_OWN_COHORTS = "report-own-cohorts"
    REPORT_ALL_COHORTS = "report-all-cohorts"
    MANAGE_PEOPLE = "manage-people"


@dataclass(frozen=True)
class RoleSpec:
    """A role as shipped: its slug, its name, what it is for, what it may do."""

    slug: str
    name: str
    description: str
    permissions: frozenset[Permission]


P = Permission
ROLES = (
    RoleSpec(
        "author", "Author", "Writes original fictional patients and rehearses them.",
        frozenset({P.WRITE_CASES, P.PRACTISE}),
    ),
    RoleSpec(
        "reviewer", "Reviewer", "Reads cases of others and approves or returns them.",
        frozenset({P.REVIEW_CASES, P.PRACTISE}),
    ),
    RoleSpec(
        "student", "Student", "Examines patients, commits to a differential, reads the debrief.",
        frozenset({P.PRACTISE, P.SIT_ROUNDS}),
    ),
    RoleSpec(
        "tutor", "Tutor", "Teaches a cohort: opens rounds, rates, and reads its reports.",
        frozenset({P.PRACTISE, P.HOLD_ROUNDS, P.REPORT_OWN_COHORTS}),
    ),
    RoleSpec(
        "coordinator", "Coordinator", "Keeps people, cohorts and roles; reads aggregated reports.",
        frozenset({P.REPORT_ALL_COHORTS, P.MANAGE_PEOPLE}),
    ),
)  # fmt: skip
BY_SLUG = {role.slug: role for role in ROLES}


def permissions_of(role_slugs: frozenset[str]) -> frozenset[Permission]:
    """Everything the roles allow together; unknown roles allow nothing."""
    granted = (BY_SLUG[slug].permissions for slug in role_slugs if slug in BY_SLUG)
    return frozenset().union(*granted)
