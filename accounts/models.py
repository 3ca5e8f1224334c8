"""People, their roles, and the cohorts they belong to."""

from __future__ import annotations

from functools import cached_property
from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from accounts.permissions import Permission, permissions_of


class UserManager(BaseUserManager["User"]):
    """Makes users; e-mail addresses are stored in lower case."""

    def create_user(self, email: str, password: str | None = None, **fields: Any) -> User:
        """Save a user with a hashed password (None: cannot sign in by password)."""
        user = self.model(email=email.strip().lower(), **fields)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def get_by_natural_key(self, username: str | None) -> User:
        """Find by address, whatever its case."""
        return self.get(email=(username or "").lower())


class User(AbstractBaseUser):
    """A person who signs in by e-mail."""

    email = models.EmailField(max_length=254, unique=True)
    name = models.CharField(max_length=120)
    is_active = models.BooleanField(default=True)
    date_joined = models.DateTimeField(auto_now_add=True)
    roles: models.ManyToManyField[Role, RoleGrant] = models.ManyToManyField(
        "Role", through="RoleGrant", through_fields=("user", "role")
    )

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS = ["name"]
    is_staff = False
    is_superuser = False
    objects: ClassVar[UserManager] = UserManager()

    class Meta:
        constraints = [models.UniqueConstraint(Lower("email"), name="user_email_unique")]

    def __str__(self) -> str:
        return self.name

    @cached_property
    def role_slugs(self) -> frozenset[str]:
        """The slugs of the roles this person holds; signing in reads them with the person."""
        return frozenset(self.rolegrant_set.values_list("role_id", flat=True))

    @property
    def permissions(self) -> frozenset[Permission]:
        """Everything this person's roles allow."""
        return permissions_of(self.role_slugs)

    def may(self, permission: Permission) -> bool:
        """Whether any role of this person allows it."""
        return self.is_active and permission in self.permissions


class Role(models.Model):
    """A role as stored; what it allows is in ``permissions.ROLES``."""

    slug = models.SlugField(primary_key=True)
    name = models.CharField(max_length=60)
    description = models.CharField(max_length=300)

    def __str__(self) -> str:
        return self.name


class RoleGrant(models.Model):
    """A person holds a role."""

    user = models.ForeignKey(User, on_delete=models.CASCADE)
    role = models.ForeignKey(Role, on_delete=models.PROTECT)
    granted_by = models.ForeignKey(
        User, null=True, on_delete=models.SET_NULL, related_name="grants_made"
    )
    granted_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["user", "role"], name="one_grant_a_role")]

    def __str__(self) -> str:
        return f"{self.user_id} {self.role_id}"


class Cohort(models.Model):
    """A year or group of students with its tutors."""

    slug = models.SlugField(unique=True)
    name = models.CharField(max_length=120)
    created_at = models.DateTimeField(auto_now_add=True)
    people = models.ManyToManyField(User, through="Membership")

    def __str__(self) -> str:
        return self.name


class Membership(models.Model):
    """A person in a cohort, as a student or as a tutor."""

    cohort = models.ForeignKey(Cohort, on_delete=models.CASCADE)
    user = models.ForeignKey(User, on_delete=models.CASCADE)
    role = models.ForeignKey(Role, on_delete=models.PROTECT)
    joined_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["cohort", "user"], name="one_membership_a_cohort"),
            models.CheckConstraint(
                condition=Q(role__in=["student", "tutor"]), name="member_is_student_or_tutor"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.user_id} in {self.cohort_id}"


class ApiToken(models.Model):
    """A token for the API; only its SHA-256 is kept."""

    user = models.ForeignKey(User, on_delete=models.CASCADE)
    name = models.CharField(max_length=80)
    digest = models.CharField(max_length=64, unique=True)
    created_at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return self.name
