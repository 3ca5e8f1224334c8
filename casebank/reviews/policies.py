"""Who reviews: the rules are those of ``casebank.cases.policies``, in a reviewer's words."""

from __future__ import annotations

from accounts.models import User
from accounts.permissions import Permission
from casebank.domain.verdict import ALLOWED, Verdict, refused


def may_review(user: User) -> Verdict:
    """Whether this person reviews cases at all."""
    if user.may(Permission.REVIEW_CASES):
        return ALLOWED
    return refused("Only reviewers read cases of others. Ask a coordinator for the role.")
