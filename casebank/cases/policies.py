"""Who may see, edit and move a case version: object rules, and the same rules as lists.

Reviewers never meet a draft and nobody reviews their own case. Students and tutors see no version.
"""

from __future__ import annotations

from django.db.models import Q, QuerySet

from accounts.models import User
from accounts.permissions import Permission
from casebank.cases.models import Case, CaseVersion
from casebank.domain.verdict import ALLOWED, Verdict, refused
from casebank.domain.workflow import EDITABLE, Actor, CaseState, Move, find_move, moves_from

CATALOGUE_READERS = (Permission.PRACTISE, Permission.WRITE_CASES, Permission.REVIEW_CASES)
EXAMINED = frozenset({CaseState.PUBLISHED, CaseState.RETIRED})
OPEN_TO_REVIEW = frozenset(CaseState) - {CaseState.DRAFT}
HOW_ON = {
    CaseState.SUBMITTED: "Withdraw it first, on its own page.",
    CaseState.RETURNED: "Take up the draft again first, on its own page.",
    CaseState.APPROVED: "Publish it, then start a new version.",
    CaseState.PUBLISHED: "Start a new version, on its own page.",
    CaseState.RETIRED: "It is kept as it was for its encounters.",
}
NOTHING_HERE = refused("There is no such case.")


def may_write(user: User) -> Verdict:
    """Whether this person may write cases at all."""
    if user.may(Permission.WRITE_CASES):
        return ALLOWED
    return refused("Only authors write cases. Ask a coordinator for the role.")


def may_read_catalogue(user: User) -> Verdict:
    """Whether this person may read the examination catalogue: who examines, writes or reviews."""
    if any(user.may(one) for one in CATALOGUE_READERS):
        return ALLOWED
    return refused("Your role does not read the catalogue. Ask a coordinator for one that does.")


def may_try_signs(user: User) -> Verdict:
    """Whether this person may hear and see signs made from parameters."""
    if user.may(Permission.WRITE_CASES) or user.may(Permission.REVIEW_CASES):
        return ALLOWED
    return refused("Only authors and reviewers try signs. Ask a coordinator for the role.")


def capacity_of(user: User, version: CaseVersion) -> Actor | None:
    """In which capacity this person meets the version; None: not at all."""
    if version.author_id == user.pk:
        return Actor.AUTHOR if user.may(Permission.WRITE_CASES) else None
    if user.may(Permission.REVIEW_CASES) and version.state in OPEN_TO_REVIEW:
        return Actor.REVIEWER
    return None


def may_see_version(user: User, version: CaseVersion) -> Verdict:
    """Whether this person may read the version's document."""
    return ALLOWED if capacity_of(user, version) else NOTHING_HERE


def may_edit(user: User, version: CaseVersion) -> Verdict:
    """Whether this person may change the document."""
    if capacity_of(user, version) is None:
        return NOTHING_HERE
    if version.author_id != user.pk:
        return refused("Only its author changes a case.")
    if version.state not in EDITABLE:
        how_on = HOW_ON[CaseState(version.state)]
        return refused(f"A version that is {version.state} cannot be changed. {how_on}")
    return ALLOWED


def may_rehearse(user: User, version: CaseVersion) -> Verdict:
    """Whether this person may let simulated learners run the version: its author, beforehand."""
    if capacity_of(user, version) is not Actor.AUTHOR:
        return NOTHING_HERE
    if version.state in EXAMINED:
        return refused(
            "A rehearsal is for a version that nobody has sat yet. See how students fared instead."
        )
    return ALLOWED


def may_see_figures(user: User, version: CaseVersion) -> Verdict:
    """Whether this person may see how students fared: its author, once it was published."""
    if capacity_of(user, version) is Actor.AUTHOR and version.state in EXAMINED:
        return ALLOWED
    return NOTHING_HERE


def may_comment(user: User, version: CaseVersion) -> Verdict:
    """Whether this person may leave a review comment now."""
    if capacity_of(user, version) is not Actor.REVIEWER:
        return NOTHING_HERE
    if version.state != CaseState.SUBMITTED:
        return refused(f"Comments are for submitted versions; this one is {version.state}.")
    return ALLOWED


def move_named(user: User, version: CaseVersion, name: str) -> Move | None:
    """The legal move of that name for this person now; an author's "retire" is their own."""
    actor = capacity_of(user, version)
    if actor is None:
        return None
    state = CaseState(version.state)
    return find_move(name, state, actor) or find_move(f"{name}-own", state, actor)


def may_move(user: User, version: CaseVersion, name: str) -> Verdict:
    """Whether this person may make that move with this version now."""
    actor = capacity_of(user, version)
    if actor is None:
        return NOTHING_HERE
    if move_named(user, version, name):
        return ALLOWED
    if actor is Actor.AUTHOR and name in {"approve", "return"}:
        return refused("Nobody reviews their own case. Another reviewer must.")
    return refused(f"This is not open to you while the version is {version.state}.")


def moves_open_to(user: User, version: CaseVersion) -> tuple[Move, ...]:
    """The moves this person may make now, in the order of the table."""
    actor = capacity_of(user, version)
    return moves_from(CaseState(version.state), actor) if actor else ()


def may_start_version(user: User, case: Case) -> Verdict:
    """Whether this person may begin the next version of the case; reads its versions."""
    if case.author_id != user.pk or not user.may(Permission.WRITE_CASES):
        return NOTHING_HERE
    states = set(case.versions.values_list("state", flat=True))
    if CaseState.PUBLISHED not in states:
        return refused("A new version starts from the published one; none is published.")
    if states - {CaseState.PUBLISHED, CaseState.RETIRED}:
        return refused("A version of this case is open already. Finish that one first.")
    return ALLOWED


def visible_versions(user: User) -> QuerySet[CaseVersion]:
    """Every version for which ``may_see_version`` is a yes."""
    seen = Q(pk=None)
    if user.may(Permission.WRITE_CASES):
        seen |= Q(author=user)
    if user.may(Permission.REVIEW_CASES):
        seen |= Q(state__in=OPEN_TO_REVIEW) & ~Q(author=user)
    return CaseVersion.objects.filter(seen)


def own_versions(user: User) -> QuerySet[CaseVersion]:
    """The versions this person writes."""
    return visible_versions(user).filter(author=user)


def reviewable_versions(user: User) -> QuerySet[CaseVersion]:
    """The versions of others this person may read as a reviewer."""
    return visible_versions(user).exclude(author=user)
