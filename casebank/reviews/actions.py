"""What a reviewer does: comments, and decisions with a comment kept beside the document."""

from __future__ import annotations

from django.db import transaction

from accounts.models import User
from casebank.audit.actions import record
from casebank.cases.actions import move
from casebank.cases.errors import Refused
from casebank.cases.models import CaseVersion
from casebank.cases.policies import may_comment
from casebank.reviews.models import Comment

LONGEST = 4000


@transaction.atomic
def add_comment(*, version: CaseVersion, text: str, path: str = "", by: User) -> Comment:
    """A remark on a place of the document, or on the whole where ``path`` is empty."""
    locked = CaseVersion.objects.select_for_update().get(pk=version.pk)
    verdict = may_comment(by, locked)
    if not verdict:
        raise Refused(verdict.reason)
    comment = Comment.objects.create(
        version=locked, author=by, path=path[:200], text=_worded(text)
    )  # fmt: skip
    record(name="comment_added", subject=locked, by=by, path=comment.path)
    return comment


def _worded(text: str) -> str:
    plain = text.replace("\0", "").strip()
    if not plain:
        raise Refused("Write the comment first.")
    if len(plain) > LONGEST:
        raise Refused(f"This comment is too long. Keep it below {LONGEST:,} characters.")
    return plain


@transaction.atomic
def decide(
    *, version: CaseVersion, name: str, by: User, comment: str = "", lock: int | None = None
) -> CaseVersion:
    """Make a move; a comment given with a reviewer's move also stands beside the document.

    Raises what ``casebank.cases.actions.move`` raises; then no comment is kept either.
    """
    words = _worded(comment) if comment.strip() else ""
    moved = move(version=version, name=name, by=by, comment=words, lock=lock)
    if words and moved.author_id != by.pk:
        Comment.objects.create(version=moved, author=by, text=words)
    return moved
