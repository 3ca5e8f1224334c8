"""What a reviewer said of a case version; the database refuses to change or delete it."""

from __future__ import annotations

import pgtrigger
from django.conf import settings
from django.db import models

from casebank.cases.models import CaseVersion


class Comment(models.Model):
    """A remark on a version, kept for ever; ``path`` points at a place, empty at the whole."""

    version = models.ForeignKey(CaseVersion, on_delete=models.PROTECT, related_name="comments")
    author = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)
    path = models.CharField(max_length=200, blank=True)
    text = models.TextField(max_length=4000)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        triggers = [
            pgtrigger.Protect(
                name="review_comment_append_only",
                operation=pgtrigger.Update | pgtrigger.Delete,
            )
        ]

    def __str__(self) -> str:
        return self.text[:60]
