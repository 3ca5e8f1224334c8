"""Cases, their versions, and the catalogue releases they are read with."""

from __future__ import annotations

import uuid

import pgtrigger
from django.conf import settings
from django.db import models
from django.db.models import F, Q

from casebank.domain.workflow import FIXED, CaseState, legal_pairs

User = settings.AUTH_USER_MODEL
STATES = [(state.value, state.value.capitalize()) for state in CaseState]


class CatalogueRelease(models.Model):
    """One release of the examination catalogue, as its source texts; never changed once stored."""

    checksum = models.CharField(max_length=64, unique=True)
    texts = models.JSONField()
    steps = models.PositiveIntegerField()
    loaded_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        triggers = [pgtrigger.Protect(name="release_fixed", operation=pgtrigger.Update)]

    def __str__(self) -> str:
        return f"catalogue {self.checksum[:8]}"


class Case(models.Model):
    """A teaching case; its content is in its versions."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    author = models.ForeignKey(User, on_delete=models.PROTECT, related_name="cases")
    created_at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"case {self.pk}"


def _state_moves() -> list[tuple[str, str]]:
    return sorted(legal_pairs())


class CaseVersion(models.Model):
    """One version of a case: a document and where it stands on its way to students.

    ``lock`` counts edits: a save states the count it started from, so a stale edit is noticed.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    case = models.ForeignKey(Case, on_delete=models.PROTECT, related_name="versions")
    number = models.PositiveIntegerField()
    author = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    title = models.CharField(max_length=200)
    document = models.JSONField()
    checksum = models.CharField(max_length=64, blank=True)
    catalogue = models.ForeignKey(CatalogueRelease, null=True, on_delete=models.PROTECT)
    state = models.CharField(max_length=12, choices=STATES, default=CaseState.DRAFT.value)
    lock = models.PositiveIntegerField(default=1)
    created_at = models.DateTimeField(auto_now_add=True)
    edited_at = models.DateTimeField(auto_now=True)
    submitted_at = models.DateTimeField(null=True)
    approved_at = models.DateTimeField(null=True)
    approved_by = models.ForeignKey(User, null=True, on_delete=models.PROTECT, related_name="+")
    published_at = models.DateTimeField(null=True)
    published_by = models.ForeignKey(User, null=True, on_delete=models.PROTECT, related_name="+")
    retired_at = models.DateTimeField(null=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["case", "number"], name="version_number_unique"),
            models.UniqueConstraint(
                fields=["case"],
                condition=Q(state__in=["draft", "submitted", "returned", "approved"]),
                name="one_open_version_a_case",
            ),
            models.UniqueConstraint(
                fields=["case"], condition=Q(state="published"), name="one_published_version_a_case"
            ),
            models.CheckConstraint(
                condition=Q(approved_by=None) | ~Q(approved_by=F("author")),
                name="nobody_approves_their_own_case",
            ),
            models.CheckConstraint(
                condition=Q(approved_at=None, approved_by=None)
                | Q(approved_at__isnull=False, approved_by__isnull=False),
                name="approval_has_time_and_person",
            ),
            models.CheckConstraint(
                condition=~Q(state__in=["approved", "published", "retired"])
                | Q(approved_by__isnull=False, catalogue__isnull=False),
                name="approved_needs_person_and_catalogue",
            ),
            models.CheckConstraint(
                condition=~Q(state__in=["published", "retired"])
                | Q(published_at__isnull=False, published_by__isnull=False),
                name="published_has_time_and_person",
            ),
        ]
        triggers = [
            pgtrigger.FSM(name="legal_state_moves", field="state", transitions=_state_moves()),
            pgtrigger.Protect(
                name="fixed_once_approved",
                operation=pgtrigger.Update,
                condition=pgtrigger.Q(old__state__in=sorted(FIXED))
                & (
                    pgtrigger.Q(old__document__df=pgtrigger.F("new__document"))
                    | pgtrigger.Q(old__checksum__df=pgtrigger.F("new__checksum"))
                    | pgtrigger.Q(old__catalogue__df=pgtrigger.F("new__catalogue"))
                    | pgtrigger.Q(old__author__df=pgtrigger.F("new__author"))
                    | pgtrigger.Q(old__approved_by__df=pgtrigger.F("new__approved_by"))
                ),
            ),
            pgtrigger.Protect(
                name="kept_once_approved",
                operation=pgtrigger.Delete,
                condition=pgtrigger.Q(old__state__in=sorted(FIXED)),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.title} (version {self.number})"
